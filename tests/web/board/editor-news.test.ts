/** What the maker is told of what happened. */
import { expect, test } from 'vitest';
import { type EditorNews, newsText } from '../../../web/board/editor-news.ts';

test('each has a sentence of its own, with its numbers and words', () => {
  const news: readonly EditorNews[] = [
    { kind: 'no-such-colour' },
    { kind: 'choose-a-colour' },
    { kind: 'no-middle' },
    { kind: 'axis-gone' },
    { kind: 'outside', count: 3 },
    { kind: 'copied', count: 1 },
    { kind: 'tied', count: 7 },
    { kind: 'bad-clip', error: { kind: 'empty' } },
    { kind: 'bad-clip', error: { kind: 'too-large' } },
    { kind: 'bad-clip', error: { kind: 'unknown-token', line: 4, token: 'q' } },
  ];
  const said = news.map(newsText);
  expect(new Set(said).size).toBe(news.length);
  expect([said[4], said[5], said[6]]).toEqual([
    '3 knots fell outside the board.',
    '1 knot copied.',
    '7 knots tied.',
  ]);
  expect(said[9]).toContain('Line 4: “q”');
});

test('what is told in another way is not said as well', () => {
  for (const news of [
    { kind: 'tied', count: 1 },
    { kind: 'picked' },
    { kind: 'refused', why: null },
  ] as const)
    expect(newsText(news)).toBe('');
});
