/** A field out of range, as a sentence in the page's language: which field, what it has to be, what it is. */
import type { FieldRangeError } from '../../engine/index.ts';
import { t } from '../text/index.ts';

/** Fields that have a name of their own in every language; other fields are said by their path. */
export const NAMED_FIELDS = [
  'gauge.cordMm',
  'gauge.rowMm',
  'gauge.knottingMm',
  'gauge.carrierMm',
  'gauge.cordErrorMm',
  'gauge.rowErrorMm',
  'gauge.knottingErrorMm',
  'gauge.carrierErrorMm',
  'gauge.cordFreedom',
  'gauge.rowFreedom',
  'gauge.takeUpFreedom',
  'gauge.knottingCarrierCorrelation',
  'gauge.rowKnottingCorrelation',
  'gauge.rowCarrierCorrelation',
  'gauge.knotScatterMm',
  'piece.shortOneIn',
  'piece.leadInRows',
  'piece.repeats',
  'piece.lengthMm',
  'piece.tailMm',
  'piece.spareMm',
  'piece.knotsPerMinute',
  'piece.skeinPrice',
  'piece.partsPrice',
  'piece.hourlyRate',
  'piece.skeinMm',
  'cordMm',
  'barMm',
  'ringMm',
  'strings',
  'ends',
  'barDiameterMm',
  'innerDiameterMm',
] as const;

function nameOf(path: string): string {
  const known = NAMED_FIELDS.find((field) => field === path);
  return known === undefined ? path : t(`field.${known}`);
}

/** For example "Cord diameter (mm) must be a number above 0, not -1". */
export function sayFieldError({ path, demand, value }: FieldRangeError): string {
  const { be, ...limits } = demand;
  const values: Record<string, string | number> = { ...limits, field: nameOf(path), value: String(value) };
  if (demand.be === 'unset-beside') values.other = nameOf(demand.other);
  return t(`demand.${be}`, values);
}
