/** Asked before a colourway goes. */
import { beforeAll, expect, it } from 'vitest';
import { removeQuestion } from '../../../web/set/remove-question.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { elementWith } from '../../support/template-elements.ts';

beforeAll(() => loadTexts('set'));

it('[W970] asks by name, says who else has it open, and does what is answered', () => {
  const done: string[] = [];
  const ask = (others: readonly string[]) =>
    removeQuestion({ name: 'For Bo', others, onYes: () => done.push('yes'), onNo: () => done.push('no') });
  const said = (others: readonly string[]) => elementWith(ask(others), { id: 'sure' }).words;
  expect(said([])).toBe('Remove “For Bo” from the set?');
  expect(said(['Kit'])).toBe('Remove “For Bo” from the set? Kit has it open now.');
  expect(said(['Kit', 'Fay', 'Ina'])).toMatch(/Kit, Fay,? and Ina have it open now\.$/);
  elementWith(ask([]), { id: 'remove-no' }).fire('click');
  elementWith(ask([]), { id: 'remove-yes' }).fire('click');
  expect(done).toEqual(['no', 'yes']);
});
