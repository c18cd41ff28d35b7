import { describe, expect, it } from 'vitest';
import { planMount } from '../../../../engine/index.ts';
import { NeatWalk } from '../../../../engine/mount/search/neat-walk.ts';
import { type SeededRandom, seededRandom } from '../../../support/seeded-random.ts';
import { rowsFrom } from '../../../support/staggered-rows.ts';

/** Colours of a neat order drawn: folds opened and closed, one single for each of some colours. */
function drawNeat(random: SeededRandom): number[] {
  const kinds = 2 + random.below(6);
  const open: number[] = [];
  const order: number[] = [];
  for (let folds = 2 + random.below(9); folds > 0 || open.length > 0; )
    if (folds > 0 && (open.length === 0 || random.chance(0.5))) {
      open.push(random.below(kinds));
      order.push(open.at(-1)!);
      folds--;
    } else order.push(open.pop()!);
  for (let kind = 0; kind < kinds; kind++)
    if (random.chance(0.3)) order.splice(random.below(order.length + 1), 0, kind);
  return order;
}

/** How its own plan folds a neat order. */
function foldsOf(order: readonly number[]): [number, number][] {
  const plan = planMount(order.map(String));
  expect(plan.neat).toBe(true);
  return plan.folds.map(({ left, right }) => [left, right]);
}

/** A walk that stands at a neat order, towards the same strings shuffled. */
function drawWalk(seed: number): { walk: NeatWalk; asked: readonly number[]; start: 0 | 1 } {
  const random = seededRandom(seed);
  const neat = drawNeat(random);
  const known = [...new Set(neat)];
  const numbers = neat.map((kind) => known.indexOf(kind));
  const asked = random.shuffle(numbers);
  const start = random.below(2) as 0 | 1;
  const walk = new NeatWalk(asked, start, seed);
  walk.stand(numbers, foldsOf(numbers));
  return { walk, asked, start };
}

/** That folds join equal colours without crossing, singles are one of a colour, and strings of a colour keep their order. */
function expectNeat(walk: NeatWalk, asked: readonly number[]): void {
  const n = asked.length;
  const singles: number[] = [];
  for (let place = 0; place < n; place++) {
    const end = walk.partner[place]!;
    expect(asked[walk.string[place]!]).toBe(walk.kind[place]);
    expect(walk.goals[walk.string[place]!]).toBe(place);
    if (end < 0) {
      singles.push(walk.kind[place]!);
      continue;
    }
    expect(walk.partner[end]).toBe(place);
    expect(walk.kind[end]).toBe(walk.kind[place]);
    const [left, right] = [Math.min(place, end), Math.max(place, end)];
    for (let at = left + 1; at < right; at++) {
      const other = walk.partner[at]!;
      if (other >= 0) expect(other > left && other < right, `${left} ${right} ${at} ${other}`).toBe(true);
    }
  }
  expect(new Set(singles).size).toBe(singles.length);
  for (const kind of new Set(asked)) {
    const strings = [...walk.string].filter((string) => asked[string] === kind);
    expect(strings).toEqual([...strings].sort((a, b) => a - b));
  }
}

describe('NeatWalk', () => {
  it('[M41] counts the rows that working them takes', () => {
    const seen = new Set<number>();
    for (let seed = 1; seed <= 300; seed++) {
      const { walk, start } = drawWalk(seed);
      expect(walk.rows, `seed ${seed}`).toBe(rowsFrom([...walk.string], start));
      seen.add(walk.rows);
    }
    expect(seen.size).toBeGreaterThan(10);
  });

  it('[M41] wherever it goes the order is neat, and nothing is lost or counted wrong', () => {
    const orders = new Set<string>();
    for (let seed = 1; seed <= 60; seed++) {
      const { walk, asked, start } = drawWalk(seed);
      for (let stop = 0; stop < 8; stop++) {
        walk.want(stop % 3);
        walk.cool(50 * (stop + 1), 4);
        expectNeat(walk, asked);
        expect(walk.rows, `seed ${seed}`).toBe(rowsFrom([...walk.string], start));
        const { excess } = walk;
        expect(excess > 0).toBe(walk.rows > stop % 3);
        walk.want(stop % 3);
        expect(walk.excess, `seed ${seed}`).toBe(excess);
        orders.add([...walk.kind].join());
      }
    }
    expect(orders.size).toBeGreaterThan(300);
  });

  it('[M41] the same seed goes the same way', () => {
    const wayOf = (seed: number): string => {
      const { walk } = drawWalk(5);
      const again = new NeatWalk([0, 1, 2, 0, 1, 2, 3, 3, 4, 4], 0, seed);
      again.stand([0, 0, 1, 1, 2, 2, 3, 3, 4, 4], foldsOf([0, 0, 1, 1, 2, 2, 3, 3, 4, 4]));
      again.want(1);
      again.cool(2_000, 5);
      return `${[...again.kind].join()} ${walk.rows}`;
    };
    expect(wayOf(3)).toBe(wayOf(3));
    expect(new Set(Array.from({ length: 20 }, (_, seed) => wayOf(seed))).size).toBeGreaterThan(1);
  });
});
