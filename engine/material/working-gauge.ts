/** The gauge to compute with: what the maker measured, and estimates for the rest. */
import type { Gauge } from '../pattern/index.ts';
import { GAUGE_FIELDS, type GaugeField, modelGauge } from './gauge-model.ts';

/** A length and whether it was measured or is estimated from the model. */
export interface GaugeValue {
  readonly valueMm: number;
  readonly estimate: boolean;
}

/** Every gauge value, each marked. */
export type WorkingGauge = Readonly<Record<GaugeField, GaugeValue>>;

/**
 * The four gauge values: those measured as they are, the others by the model (rule L2).
 * @throws FieldRangeError when a given value is not above 0, with the path `gauge.<field>`
 */
export function workingGauge(gauge: Gauge): WorkingGauge {
  const { valuesMm } = modelGauge(gauge);
  const value = (field: GaugeField): GaugeValue => ({
    valueMm: valuesMm[GAUGE_FIELDS.indexOf(field)] as number,
    estimate: gauge[field] === undefined,
  });
  return {
    cordMm: value('cordMm'),
    rowMm: value('rowMm'),
    knottingMm: value('knottingMm'),
    carrierMm: value('carrierMm'),
  };
}

/**
 * Height of a row for the width of a string: the one ratio that estimate, finished look, paper and exported pictures have.
 * @throws FieldRangeError as {@link workingGauge}
 */
export function rowPerWidth(gauge: Gauge): number {
  const { cordMm, rowMm } = workingGauge(gauge);
  return rowMm.valueMm / cordMm.valueMm;
}
