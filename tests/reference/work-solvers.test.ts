/** Fewest pick-ups against independent solvers: a mixed-integer programme (HiGHS) and a SAT solver (logic-solver). */
import highsLoader from 'highs';
import Logic from 'logic-solver';
import { describe, expect, it } from 'vitest';
import { type Pattern, workOrder } from '../../engine/index.ts';
import { boardOf, posetOf, randomBand, seededRandom } from './work-bands.ts';
import type { LabelledPoset } from './work-poset.ts';

function bandsWithKnots(seed: number, count: number, least: number, most: number): readonly Pattern[] {
  const random = seededRandom(seed);
  const bands: Pattern[] = [];
  while (bands.length < count) {
    const strings = 3 + Math.floor(random() * 4);
    const band = randomBand(
      random,
      { strings, rows: 3 + Math.floor(random() * 6) },
      { untied: 0.25, staying: 0.7 },
    );
    const tied = band.knots.filter((knot) => knot > 0).length;
    if (tied >= least && tied <= most) bands.push(band);
  }
  return bands;
}

function fewestPickUps(pattern: Pattern): number {
  const order = workOrder(boardOf(pattern), { method: 'exact' });
  if (!order.ok) throw new Error(order.error.message);
  return order.pickUps;
}

/** z: knot i is tied at time t; c: at time t another string is taken up. Minimise the sum of c. */
function programme({ after, labels }: LabelledPoset): string {
  const n = labels.length;
  const times = Array.from({ length: n }, (_, t) => t);
  const lines: string[] = [];
  for (const i of times) {
    lines.push(`${times.map((t) => `z_${i}_${t}`).join(' + ')} = 1`);
    lines.push(`${times.map((t) => `z_${t}_${i}`).join(' + ')} = 1`);
  }
  after.forEach((before, i) => {
    for (const j of before)
      lines.push(`${times.flatMap((t) => [`+ ${t} z_${i}_${t}`, `- ${t} z_${j}_${t}`]).join(' ')} >= 1`);
  });
  for (const label of new Set(labels)) {
    const own = times.filter((i) => labels[i] === label);
    for (const t of times.slice(1)) {
      const now = own.map((i) => `- z_${i}_${t}`).join(' ');
      const then = own.map((i) => `+ z_${i}_${t - 1}`).join(' ');
      lines.push(`c_${t} ${now} ${then} >= 0`);
    }
  }
  const binaries = times
    .flatMap((i) => times.map((t) => `z_${i}_${t}`))
    .concat(times.slice(1).map((t) => `c_${t}`));
  const constraints = lines.map((line, i) => ` r${i}: ${line}`).join('\n');
  const objective = times
    .slice(1)
    .map((t) => `c_${t}`)
    .join(' + ');
  return `Minimize\n obj: ${objective}\nSubject To\n${constraints}\nBinary\n ${binaries.join('\n ')}\nEnd`;
}

/** Whether an order with at most `most` runs exists: each knot is put into one of `most` runs of one string each. */
function hasOrder({ after, labels }: LabelledPoset, most: number): boolean {
  const solver = new Logic.Solver();
  const runs = Array.from({ length: most }, (_, run) => run);
  const inRun = (knot: number, run: number): string => `x_${knot}_${run}`;
  labels.forEach((label, knot) => {
    solver.require(Logic.exactlyOne(...runs.map((run) => inRun(knot, run))));
    labels.forEach((other, next) => {
      if (next <= knot || other === label) return;
      for (const run of runs)
        solver.require(Logic.or(Logic.not(inRun(knot, run)), Logic.not(inRun(next, run))));
    });
    for (const before of after[knot]!) {
      // Knots of one string follow each other within a run; every other knot it waits for lies in an earlier run.
      const shift = labels[before] === label ? 0 : 1;
      for (const run of runs) {
        const earlier = runs.filter((one) => one + shift <= run).map((one) => inRun(before, one));
        solver.require(Logic.or(Logic.not(inRun(knot, run)), ...earlier));
      }
    }
  });
  return solver.solve() !== null;
}

describe('fewest pick-ups against other solvers', () => {
  it('[O7] a mixed-integer programme (HiGHS) finds the same', async () => {
    const highs = await highsLoader();
    for (const band of bandsWithKnots(51, 12, 5, 8)) {
      const { ObjectiveValue, Status } = highs.solve(programme(posetOf(band)));
      expect(Status).toBe('Optimal');
      expect(fewestPickUps(band)).toBe(1 + Math.round(ObjectiveValue));
    }
  });

  it('[O7] a SAT solver (logic-solver) finds an order with as many, and none with one less', () => {
    for (const band of bandsWithKnots(52, 60, 8, 24)) {
      const poset = posetOf(band);
      const fewest = fewestPickUps(band);
      expect(hasOrder(poset, fewest)).toBe(true);
      expect(hasOrder(poset, fewest - 1)).toBe(false);
    }
  });
});
