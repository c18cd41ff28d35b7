/** The gauge to compute with: what the maker measured, and estimates for the rest. */
import type { Gauge } from '../pattern/index.ts';
import { DEFAULT_CORD_MM, hitchLength } from './cord.ts';
import { requirePositive } from './field-error.ts';

/** A length and whether it was measured or is estimated from the model. */
export interface GaugeValue {
  readonly valueMm: number;
  readonly estimate: boolean;
}

/** The four values of a gauge; all in mm. */
export type GaugeField = 'cordMm' | 'rowMm' | 'knottingMm' | 'carrierMm';

export const GAUGE_FIELDS: readonly GaugeField[] = ['cordMm', 'rowMm', 'knottingMm', 'carrierMm'];

/** Every gauge value, each marked. */
export type WorkingGauge = Readonly<Record<GaugeField, GaugeValue>>;

/**
 * Height of a row in cord diameters, where it was not measured. A knot is about as wide and as high as two cords lying side
 * by side; staggered knots lie like close-packed circles of diameter 2d, whose rows are √3 d apart. With the helix model an
 * end that is knotting string and carrier in turn then takes 4.67 times the finished length, within the 4 to 5 times of Des
 * Pawson, "Knot Craft", 2nd ed. 2009, p. 68.
 */
export const ROW_PER_CORD = Math.sqrt(3);

/**
 * The four gauge values: those measured as they are, the others by the model (rule L2). Cord diameter: from the row height, else
 * {@link DEFAULT_CORD_MM}. Row: {@link ROW_PER_CORD} diameters. Knotting: the two turns of the hitch and the way on, one row
 * height. Carrier: one row height.
 * @throws FieldRangeError when a given value is not above 0, with the path `gauge.<field>`
 */
export function workingGauge(gauge: Gauge): WorkingGauge {
  for (const field of GAUGE_FIELDS) {
    const value = gauge[field];
    if (value !== undefined) requirePositive(`gauge.${field}`, value);
  }
  const cordMm = settle(
    gauge.cordMm,
    gauge.rowMm === undefined ? DEFAULT_CORD_MM : gauge.rowMm / ROW_PER_CORD,
  );
  const rowMm = settle(gauge.rowMm, ROW_PER_CORD * cordMm.valueMm);
  const knottingMm = settle(gauge.knottingMm, hitchLength(cordMm.valueMm) + rowMm.valueMm);
  const carrierMm = settle(gauge.carrierMm, rowMm.valueMm);
  return { cordMm, rowMm, knottingMm, carrierMm };
}

function settle(measured: number | undefined, estimated: number): GaugeValue {
  return measured === undefined
    ? { valueMm: estimated, estimate: true }
    : { valueMm: measured, estimate: false };
}
