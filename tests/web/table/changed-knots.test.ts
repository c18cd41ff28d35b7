import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { compareTied } from '../../../engine/index.ts';
import { sayChanges } from '../../../web/table/changed-knots.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { readBoard } from '../../support/own-board.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('table');
});
afterAll(() => vi.unstubAllGlobals());

const board = (first: string) =>
  readBoard({
    format: 'larkboard',
    version: 1,
    palette: [{ id: 'a', name: 'a', hex: '#101010' }],
    strings: ['a', 'a', 'a', 'a'],
    rows: [first, 'f'],
    piece: { repeats: 2 },
  });

it('[N5] names the tied knots that are another now by row and place, the first four, and counts the others', async () => {
  const tied = new Set(['band 1 0 0', 'band 1 0 1', 'band 1 1 0', 'band 2 0 0', 'band 2 0 1']);
  const said = (now: string) => sayChanges(compareTied(board('f f'), board(now), tied).changes);
  expect(said('f f')).toBe('');
  expect(said('f b')).toBe('Another now: row 1, knot 2 and repeat 2, row 1, knot 2.');
  expect(said('b b')).toBe(
    'Another now: row 1, knot 1, row 1, knot 2, repeat 2, row 1, knot 1, and repeat 2, row 1, knot 2.',
  );
  const many = compareTied(board('f f'), board('b b'), tied).changes;
  expect(sayChanges([...many, ...many])).toMatch(/, and 4 more\.$/);
  await speak('de');
  expect(said('f b')).toBe('Jetzt anders: Reihe 1, Knoten 2 und Rapport 2, Reihe 1, Knoten 2.');
  await speak('en');
});
