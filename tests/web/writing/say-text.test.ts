/** What stands beside a text. */
import { beforeAll, describe, expect, it } from 'vitest';
import { designText, type TextPlace } from '../../../engine/document/index.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { besideText, sayProblem } from '../../../web/writing/say-text.ts';
import { TextInHand } from '../../../web/writing/text-in-hand.ts';
import { openDesign } from '../../support/open-design.ts';
import { stubPage } from '../../support/page-globals.ts';
import { elementWith } from '../../support/template-elements.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('writing');
});

const holding = (text: string, place: TextPlace = { of: 'title' }): TextInHand => {
  const hand = new TextInHand(
    designText(openDesign(), place),
    () => () => {},
    () => {},
  );
  hand.typed(text, 'insertText');
  return hand;
};
const says = (hand: TextInHand, isFocused = true): readonly (string | null)[] =>
  ['room', 'wrong'].map((id) => {
    const { attributes, words } = elementWith(besideText(hand, isFocused), { id });
    return 'hidden' in attributes ? null : words;
  });

describe('beside a text', () => {
  it('[W1004] stands how many characters are too many, by one or more', () => {
    expect(says(holding('x'.repeat(121)))).toEqual([
      null,
      '1 character too many. Not saved until it is shorter.',
    ]);
    expect(says(holding('x'.repeat(123)), false)[1]).toContain('3 characters');
    expect(says(holding('Tail'))).toEqual([null, null]);
    expect(sayProblem({ kind: 'too-long', over: 2, isJoint: true })).toContain(
      'Somebody else wrote here too',
    );
  });

  it('[W1004] how much room there is, in notes always and else when it becomes scarce', () => {
    expect(says(holding('x', { of: 'notes' }), false)).toEqual(['Room for 3999 more characters.', null]);
    expect(says(holding('x'.repeat(111)))).toEqual(['Room for 9 more characters.', null]);
    expect(says(holding('x'.repeat(111)), false)).toEqual([null, null]);
  });

  it('[W1005] [W1007] in every language', async () => {
    expect(sayProblem({ kind: 'of-another', name: 'moss' })).toMatch(/^“moss” is the board’s colour/);
    await speak('de');
    expect(sayProblem({ kind: 'empty' })).toBe('Hier fehlt ein Name. Bis dahin bleibt der alte.');
    expect(sayProblem({ kind: 'gone' })).toContain('Deine Worte sind noch da');
    expect(sayProblem({ kind: 'too-long', over: 1, isJoint: true })).toContain('ist es 1 Zeichen zu viel');
    await speak('en');
  });
});
