/** How errors of what was measured, and what the model leaves open, reach the values that follow from them. */
import { GAUGE_FIELDS, type GaugeField, gainOf, type ModelledGauge } from './gauge-model.ts';
import { multiply } from './small-matrix.ts';

/** Errors of the four values of a gauge, in the order of {@link GAUGE_FIELDS}, in mm. */
export interface PassedOn {
  /** From one standard deviation of a part of the model: nothing for what is measured. */
  readonly model: (part: number) => readonly number[];
  /** From errors of measured values, in mm. */
  readonly measurement: (given: Partial<Record<GaugeField, number>>) => readonly number[];
}

/**
 * Errors if these fields count as measured, by the derivatives of `modelGauge` at its values. What is estimated beside measured values is off by what
 * those do not tell of the model's parts, and by their own errors times the gain with which they were heeded.
 */
export function errorsUnder(model: ModelledGauge, measured: readonly GaugeField[]): PassedOn {
  const { slopes, spreads, valuesMm } = model;
  const indices = measured.map((field) => GAUGE_FIELDS.indexOf(field));
  const gain = measured.length === 0 ? spreads.map(() => []) : gainOf(slopes, spreads, measured);
  /** Derivatives of all values' logarithms by those of the measured ones. */
  const heeded = multiply(slopes, gain);
  return {
    model: (part) =>
      slopes.map((row, i) => {
        if (indices.includes(i)) return 0;
        const told = indices.reduce(
          (sum, at, j) =>
            sum +
            ((heeded[i] as readonly number[])[j] as number) *
              ((slopes[at] as readonly number[])[part] as number),
          0,
        );
        const open = (row[part] as number) - told;
        // What differs by no more than rounding is told altogether.
        return Math.abs(open) < 1e-12 ? 0 : -open * (spreads[part] as number) * (valuesMm[i] as number);
      }),
    measurement: (given) =>
      slopes.map((_, i) => {
        if (indices.includes(i)) return given[GAUGE_FIELDS[i] as GaugeField] ?? 0;
        return indices.reduce((sum, at, j) => {
          const error = given[GAUGE_FIELDS[at] as GaugeField] ?? 0;
          const slope = (heeded[i] as readonly number[])[j] as number;
          return Math.abs(slope) < 1e-12
            ? sum
            : sum + (slope * error * (valuesMm[i] as number)) / (valuesMm[at] as number);
        }, 0);
      }),
  };
}
