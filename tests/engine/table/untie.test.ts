import { describe, expect, it } from 'vitest';
import { type Pattern, patternFromText, untie } from '../../../engine/index.ts';
import { posetOf, randomBand, seededRandom, type Tied } from '../../reference/work-bands.ts';

const nameOf = ({ row, k }: Tied): string => `${row} ${k}`;

/** A random part of a band that is closed under what its knots hang on. */
function randomDone(pattern: Pattern, random: () => number): readonly Tied[] {
  const { knots, after } = posetOf(pattern);
  const share = random();
  const isDone: boolean[] = [];
  for (const before of after) isDone.push(before.every((one) => isDone[one]) && random() < share + 0.3);
  return knots.filter((_, at) => isDone[at]);
}

/** All done knots from which one reaches `knot` by going up string by string, found by trying every pair. */
function hangingOn(pattern: Pattern, done: readonly Tied[], knot: Tied): Set<string> {
  const { knots, after } = posetOf(pattern);
  const reach = knots.map((_, at) => new Set<number>([at]));
  for (let turn = 0; turn < knots.length; turn++)
    for (const [at, before] of after.entries())
      for (const one of before) for (const further of reach[one]!) reach[at]!.add(further);
  const target = knots.findIndex((one) => nameOf(one) === nameOf(knot));
  const isDone = new Set(done.map(nameOf));
  return new Set(
    knots.flatMap((one, at) => (reach[at]!.has(target) && isDone.has(nameOf(one)) ? [nameOf(one)] : [])),
  );
}

describe('untie', () => {
  it('[H10] gives what reaches the knot through the strings, and no other, none before what hangs on it', () => {
    const random = seededRandom(10);
    const sizes = new Set<number>();
    for (let turn = 0; turn < 250; turn++) {
      const size = { strings: 2 + Math.floor(random() * 6), rows: 1 + Math.floor(random() * 7) };
      const band = randomBand(random, size, { untied: random() * 0.6, staying: random() });
      const done = randomDone(band, random);
      const { knots, after } = posetOf(band);
      for (const knot of done) {
        const undo = untie(band, done, knot);
        expect(new Set(undo.map(nameOf))).toEqual(hangingOn(band, done, knot));
        expect(undo.length).toBe(new Set(undo.map(nameOf)).size);
        // At each moment nothing that is still tied hangs on what is undone next.
        const tied = new Set(done.map(nameOf));
        for (const next of undo) {
          tied.delete(nameOf(next));
          knots.forEach((one, at) => {
            if (tied.has(nameOf(one)))
              for (const before of after[at]!) expect(nameOf(knots[before]!)).not.toBe(nameOf(next));
          });
        }
        expect(nameOf(undo.at(-1)!)).toBe(nameOf(knot));
        sizes.add(undo.length);
      }
    }
    expect(sizes.size).toBeGreaterThan(8);
  });

  it('[H10] leaves alone what hangs beside it', () => {
    const band = patternFromText(['a', 'b', 'c', 'd'], ['f f', 'f', 'f f']);
    const done = [
      { row: 0, k: 0 },
      { row: 0, k: 1 },
      { row: 1, k: 0 },
      { row: 2, k: 1 },
    ];
    expect(untie(band, done.slice(0, 2), { row: 0, k: 1 })).toEqual([{ row: 0, k: 1 }]);
    expect(untie(band, done, { row: 1, k: 0 })).toEqual([
      { row: 2, k: 1 },
      { row: 1, k: 0 },
    ]);
  });

  it('[H10] done knots that are none or hang in the air, and a knot that is not done, are refused by their place', () => {
    const band = patternFromText(['a', 'b', 'c', 'd'], ['f -', 'f', 'f f']);
    const first = { row: 0, k: 0 };
    expect(() => untie(band, [{ row: 0, k: 1 }], first)).toThrow(/knot 1 of row 0 is no tied knot/);
    expect(() => untie(band, [{ row: 3, k: 0 }], first)).toThrow(/knot 0 of row 3/);
    expect(() => untie(band, [{ row: 1, k: 0 }], first)).toThrow(/hangs on knot 0 of row 0/);
    expect(() => untie(band, [first], { row: 1, k: 0 })).toThrow(/none of those/);
    expect(() => untie(band, [], first)).toThrow(RangeError);
  });
});
