/** Two people measure at once: what the board then holds about the gauge belongs together. */
import { expect, test } from 'vitest';
import { cutList, fitGauge, type Gauge, type GaugePatchValues, type Swatch } from '../../../engine/index.ts';
import { joinDesign, openDesign, runAll, syncAll } from '../../support/open-design.ts';

const swatch = (knotting: number, carrier: number, leftMm: number, rest: Swatch = {}): Swatch => ({
  ...{ rows: 30, cutMm: 900, leftMm, knotting, carrier },
  ...rest,
});

function patchOf(swatches: readonly Swatch[], known: Gauge = {}) {
  const fit = fitGauge(swatches, known);
  if (!fit.ok) throw new Error(fit.error.message);
  return fit.value.patch;
}

const stored = (patch: object): Gauge =>
  Object.fromEntries(Object.entries(patch).filter(([, value]) => value !== null)) as Gauge;

/** Knotting and carrier told apart, row height with them. */
const BOTH = patchOf([
  swatch(20, 10, 250, { heightMm: 90 }),
  swatch(10, 20, 502, { heightMm: 92 }),
  swatch(15, 15, 370, { heightMm: 89 }),
]);
/** One string only: the carrier stays an estimate. */
const ONE = patchOf([swatch(18, 12, 310)]);
const WIDTH = patchOf([
  { strings: 8, widthMm: 16 },
  { strings: 8, widthMm: 16.4 },
]);

test('[D52] [L19] of two fits made at once one counts as a whole, and a width measured at the same time stays', () => {
  for (const [first, second] of [
    [BOTH, ONE],
    [ONE, BOTH],
  ] as const) {
    const mara = openDesign();
    const tove = joinDesign(mara, 't');
    runAll(mara, { kind: 'set-gauge', patch: first });
    runAll(tove, { kind: 'set-gauge', patch: second }, { kind: 'set-gauge', patch: WIDTH });
    syncAll(mara, tove);
    const { gauge } = mara.snapshot.board;
    expect(tove.snapshot.board.gauge).toEqual(gauge);
    expect(gauge).toMatchObject(stored(WIDTH));
    const winner = gauge.knottingMm === BOTH.knottingMm ? BOTH : ONE;
    // Fields that both wrote are all of one of them.
    for (const field of Object.keys(ONE) as (keyof GaugePatchValues)[])
      if (field in BOTH) expect([field, gauge[field] ?? null]).toEqual([field, winner[field]]);
    const list = cutList(mara.snapshot.board);
    expect(list.doubt.unknown).toEqual([]);
    for (const { doubt } of list.folds) expect(doubt!.plusMinusMm).toBeGreaterThan(0);
  }
});

test('[D52] [D80] [L19] undo takes a fit back with all that belongs to it, and leaves what somebody else measured', () => {
  const mara = openDesign();
  runAll(mara, { kind: 'set-gauge', patch: { ...ONE } });
  const tove = joinDesign(mara, 't');
  runAll(tove, { kind: 'set-gauge', patch: WIDTH });
  runAll(tove, { kind: 'set-gauge', patch: BOTH });
  syncAll(mara, tove);
  expect(mara.snapshot.board.gauge).toEqual({ ...stored(WIDTH), ...stored(BOTH) });
  expect(tove.undo()).toBe(true);
  syncAll(mara, tove);
  expect(mara.snapshot.board.gauge).toEqual({ ...stored(ONE), ...stored(WIDTH) });
  expect(tove.redo()).toBe(true);
  expect(tove.snapshot.board.gauge).toEqual({ ...stored(WIDTH), ...stored(BOTH) });
});

test('[D31] [L17] an error out of range reads as unset, and the value beside it as unsure by an unknown amount', () => {
  const design = openDesign();
  runAll(design, { kind: 'set-gauge', patch: { rowMm: 2, rowErrorMm: 0.1 } });
  expect(design.run({ kind: 'set-gauge', patch: { rowErrorMm: -1 } })).toMatchObject({
    ok: false,
    error: { kind: 'out-of-range', path: 'patch.rowErrorMm' },
  });
  expect(design.run({ kind: 'set-gauge', patch: { takeUpFreedom: 1.5 } })).toMatchObject({
    ok: false,
    error: { path: 'patch.takeUpFreedom' },
  });
  const meta = design.doc.getMap('meta');
  const key = [...meta.keys()].find((name) => name.endsWith('gauge.rowErrorMm'));
  meta.set(key!, -3);
  expect(design.snapshot.board.gauge).toEqual({ cordMm: 1.2, rowMm: 2 });
  expect(cutList(design.snapshot.board).doubt.unknown).toEqual(['gauge.cordErrorMm', 'gauge.rowErrorMm']);
});
