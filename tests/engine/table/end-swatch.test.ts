import { describe, expect, it } from 'vitest';
import { fitGauge, pieceSize, stillNeeded, type WorkStep, workOrder } from '../../../engine/index.ts';
import { endSwatch, endsToMeasure } from '../../../engine/table/end-swatch.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

const GAUGE = { rowMm: 2.3, rowErrorMm: 0, knottingMm: 17, carrierMm: 2.9 };

describe('a finished keychain as a swatch', () => {
  it('[H36] what hangs of the ends that tell most gives back the take-up that the keychain was tied with', () => {
    const random = seededRandom(36);
    let both = 0;
    for (let turn = 0; turn < 40; turn++) {
      const strings = 4 + (turn % 7);
      const band = randomBand(random, { strings, rows: 6 }, { untied: 0.1, staying: 0.5 });
      const board = { ...boardOf(band, { repeats: 2, end: 'triangle' }), gauge: GAUGE };
      const order = workOrder(board, { method: 'segments', covers: 'piece' });
      if (!order.ok) throw new Error(order.error.message);
      const { steps } = order;
      const { rows } = pieceSize(board);
      const ends = endsToMeasure(strings, steps);
      const need = stillNeeded(board, steps, 0);
      const { tailMm } = { tailMm: 55 };
      const swatches = ends.map((string) => {
        // What hangs below the last row is what was hung on, less the knots and the rows on the way.
        const untied =
          rows - steps.filter((step) => step.knotting === string || step.carrier === string).length;
        const below = untied * GAUGE.rowMm;
        const tiedMm = need[string]!.knotsMm;
        const way = need[string]!.endMm;
        const uses = steps.filter((step) => step.knotting === string).length * GAUGE.knottingMm;
        const carries = steps.filter((step) => step.carrier === string).length * GAUGE.carrierMm;
        expect(tiedMm + way).toBeGreaterThan(uses + carries);
        return endSwatch(strings, steps, rows, {
          string,
          hungMm: uses + carries + below + tailMm,
          leftMm: tailMm,
        });
      });
      const fitted = fitGauge(swatches, GAUGE);
      if (!fitted.ok) throw new Error(fitted.error.message);
      if (swatches.length < 2 || fitted.value.carrierMm.estimate || fitted.value.knottingMm.estimate)
        continue;
      expect(fitted.value.knottingMm.valueMm).toBeCloseTo(GAUGE.knottingMm, 6);
      expect(fitted.value.carrierMm.valueMm).toBeCloseTo(GAUGE.carrierMm, 6);
      both++;
    }
    expect(both).toBeGreaterThan(25);
  });

  it('[H36] of strings that are alike the left one is asked for, and none where nothing is tied', () => {
    const step = (knotting: number, carrier: number) => ({ knotting, carrier }) as WorkStep;
    expect(endsToMeasure(4, [])).toEqual([]);
    expect(endsToMeasure(4, [step(2, 1), step(3, 0)])).toEqual([2, 0]);
    expect(endsToMeasure(2, [step(0, 1), step(1, 0)])).toEqual([0]);
  });
});
