/** Words that no field shows any more: told once, as they are now, until they are written or let go. */
import { beforeEach, expect, it, vi } from 'vitest';
import { designText } from '../../../engine/document/index.ts';
import { handOf, leftWords, letWords } from '../../../web/writing/left-words.ts';
import { openDesign, runAll } from '../../support/open-design.ts';

beforeEach(() => {
  vi.useFakeTimers();
  return () => vi.useRealTimers();
});

const nobody = { selection: () => null, show: () => {}, said: () => {} };

it('[W1007] words too long for their place are told when their field goes, and no more once they are written', () => {
  const design = openDesign();
  const hand = handOf(designText(design, { of: 'title' }));
  expect(handOf(designText(design, { of: 'title' }))).toBe(hand);
  const leave = hand.attach(nobody);
  hand.typed('x'.repeat(130), 'insertFromPaste');
  expect(leftWords().value).toEqual([]);
  leave();
  expect(leftWords().value).toEqual([hand]);
  // The field is there again with all of it, and they can be made shorter.
  hand.attach(nobody);
  hand.typed('x', 'deleteContentBackward');
  vi.runAllTimers();
  expect(design.snapshot.board.title).toBe('x');
  expect(leftWords().value).toEqual([]);
});

it('[W1007] they can be let go', () => {
  const design = openDesign();
  const id = design.snapshot.board.palette[0]!.id;
  const hand = handOf(designText(design, { of: 'colour', id }));
  const leave = hand.attach(nobody);
  hand.typed('river', 'insertText');
  runAll(design, { kind: 'remove-colour', id, replaceWith: design.snapshot.board.palette[1]!.id });
  leave();
  expect(leftWords().value.map(({ text }) => text)).toEqual(['river']);
  letWords(hand);
  expect([leftWords().value, hand.text, hand.problem]).toEqual([[], '', null]);
});
