/** The commands that turn one pattern into another: all that differs, and nothing besides. */
import { expect, it } from 'vitest';
import type { Command } from '../../../engine/document/index.ts';
import type { Pattern } from '../../../engine/index.ts';
import { patternChange } from '../../../web/panels/pattern-change.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../support/open-design.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';
import { seededRandom } from '../../support/seeded-random.ts';

const from = samplePattern(8, 6);
const after = (to: Pattern): Pattern => {
  const design = openDesign({ ...sampleBoard(), pattern: from });
  runAll(design, ...patternChange(design.snapshot.board.pattern, to));
  return design.snapshot.board.pattern;
};
const kinds = (to: Pattern): readonly Command['kind'][] => patternChange(from, to).map(({ kind }) => kind);

/** Some knots and colours are others. */
function other(seed: number): Pattern {
  const random = seededRandom(seed);
  const now = openDesign({ ...sampleBoard(), pattern: from });
  for (let i = random.below(6); i > 0; i--) {
    const row = random.below(6);
    const k = random.below(4 - (row % 2));
    runAll(now, { kind: 'set-knots', knots: [{ row, k, knot: random.pick([0, 1, 2, 3, 4] as const) }] });
  }
  for (let i = random.below(4); i > 0; i--)
    runAll(now, {
      kind: 'recolour-strings',
      strings: [random.below(8)],
      colour: random.pick(['r', 'g', 'b']),
    });
  return now.snapshot.board.pattern;
}

it('[B38] gives the other pattern, whatever differs', () => {
  const counts = new Set<number>();
  for (let seed = 0; seed < 40; seed++) {
    const to = other(seed);
    counts.add(patternChange(from, to).length);
    expect([seed, after(to)]).toEqual([seed, to]);
  }
  // Nothing, knots alone, and colours in one command each.
  expect([...counts].sort()).toEqual(expect.arrayContaining([0, 1, 2, 3]));
});

it('[B38] makes the pattern anew where it has other rows or strings, or begins on the other half', () => {
  for (const to of [samplePattern(8, 4), samplePattern(6, 6), samplePattern(8, 6, 1)]) {
    expect(kinds(to)).toEqual(['replace-pattern']);
    expect(after(to)).toEqual(to);
  }
});

it('[B38] strings that go to one colour are one command; each of them goes there', () => {
  const colours = from.colours.map((colour, place) => (place % 2 === 0 ? 'g' : colour));
  expect(patternChange(from, { ...from, colours })).toEqual([
    { kind: 'recolour-strings', strings: [0, 2, 6], colour: 'g' },
  ]);
  const swapped = ['g', 'r', ...from.colours.slice(2)];
  expect(kinds({ ...from, colours: swapped })).toEqual(['recolour-strings', 'recolour-strings']);
});

it('[B38] leaves what a friend changes meanwhile elsewhere', () => {
  const mine = openDesign({ ...sampleBoard(), pattern: from });
  const theirs = joinDesign(mine, 'friend');
  runAll(theirs, { kind: 'set-knots', knots: [{ row: 5, k: 0, knot: 4 }] });
  runAll(theirs, { kind: 'recolour-strings', strings: [7], colour: 'r' });
  const knots = from.knots.slice();
  knots[0] = 3;
  const colours = ['b', ...from.colours.slice(1)];
  runAll(mine, ...patternChange(mine.snapshot.board.pattern, { ...from, knots, colours }));
  syncAll(mine, theirs);
  const both = mine.snapshot.board.pattern;
  expect([both.knots[0], both.knots[5 * 4], both.colours[0], both.colours[7]]).toEqual([3, 4, 'b', 'r']);
});
