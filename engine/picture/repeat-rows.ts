/** The rows of several repeats, as they are worked. */
import { type Pattern, rowStride } from '../pattern/index.ts';

/** `repeats` of the rows from `leadInRows` on, below the lead-in, whole repeats only and at least one. */
export function repeatRows(pattern: Pattern, leadInRows: number, repeats: number, mostRows: number): Pattern {
  const stride = rowStride(pattern.colours.length);
  const length = pattern.rows - leadInRows;
  const step = length + (length % 2);
  const fitting = step === 0 ? 1 : Math.floor((mostRows - leadInRows + (length % 2)) / step);
  const drawn = Math.max(1, Math.min(repeats, fitting));
  const rows = leadInRows + drawn * step - (length % 2);
  const knots = new Uint8Array(rows * stride);
  knots.set(pattern.knots);
  const unit = pattern.knots.subarray(leadInRows * stride);
  for (let i = 1; i < drawn; i++) knots.set(unit, (leadInRows + i * step) * stride);
  return { ...pattern, rows, knots };
}
