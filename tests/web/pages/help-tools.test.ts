/** The tools on the help page: each as the board shows it, with the key that it has now. */
import { afterEach, expect, it } from 'vitest';
import { ownKeys } from '../../../web/board/own-keys.ts';
import { toolList } from '../../../web/pages/help-tools.ts';
import { elementsOf } from '../../support/template-elements.ts';

const before = ownKeys.value;
afterEach(() => ownKeys.set(before));

const keys = (): readonly (string | undefined)[] =>
  elementsOf(toolList()).flatMap(({ tag, words }) => (tag === 'kbd' ? [words] : []));

it('[B270] all are there with their keys', () => {
  expect(elementsOf(toolList()).filter(({ tag }) => tag === 'svg')).toHaveLength(15);
  expect(keys().join(' ')).toBe('1 2 3 4 0 K L F M B S D W 5 T');
});

it('[B271] a key that was changed is shown as it is now', () => {
  ownKeys.set({ keys: { mirror: 'Q' }, hasSingles: true });
  expect(keys().join(' ')).toBe('1 2 3 4 0 K L F Q B S D W 5 T');
  ownKeys.set({ keys: {}, hasSingles: false });
  expect(keys()).toEqual([]);
});
