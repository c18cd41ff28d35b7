/** A swatch: a small piece tied to be measured. */

/**
 * What was measured on one swatch. Each group may be left out, but not split: width with its strings, height with its rows,
 * and a measured string with all of its four numbers. A second string measured on the same piece is a swatch of its own
 * without width and height.
 */
export interface Swatch {
  readonly strings?: number;
  /** Width over those strings, in mm. */
  readonly widthMm?: number;
  readonly rows?: number;
  /** Height of those rows, in mm. */
  readonly heightMm?: number;
  /** Length of one end before tying, from where it hangs, in mm. */
  readonly cutMm?: number;
  /** What was left of it below the last row, in mm. */
  readonly leftMm?: number;
  /** How often that end was the knotting string, and how often the carrier. In the other `rows` it hung untied. */
  readonly knotting?: number;
  readonly carrier?: number;
}

/** Why a swatch cannot be measured from. */
export interface SwatchError {
  /**
   * `not-positive`, `not-whole`, `negative`: a number out of range; `incomplete`: half of a group is missing; `more-left-than-cut`;
   * `more-knots-than-rows`: the end was tied more often than there are rows; `no-knots`: an end measured that was never tied;
   * `contradictory`: the swatches together give a value that is not above 0.
   */
  readonly kind:
    | 'not-positive'
    | 'not-whole'
    | 'negative'
    | 'incomplete'
    | 'more-left-than-cut'
    | 'more-knots-than-rows'
    | 'no-knots'
    | 'contradictory';
  /** Path of the field, such as `swatches[0].leftMm`. */
  readonly path: string;
  readonly message: string;
}

type NumberField = keyof Swatch;

const ABOVE_ZERO: readonly NumberField[] = ['strings', 'widthMm', 'rows', 'heightMm', 'cutMm'];
const ZERO_OR_MORE: readonly NumberField[] = ['leftMm', 'knotting', 'carrier'];
const WHOLE: readonly NumberField[] = ['strings', 'rows', 'knotting', 'carrier'];
const STRING_GROUP: readonly NumberField[] = ['cutMm', 'leftMm', 'knotting', 'carrier'];

/** The first thing wrong with a swatch, or null. `path` is put before the field's name. Rule L4. */
export function checkSwatch(swatch: Swatch, path: string): SwatchError | null {
  const fail = (kind: SwatchError['kind'], field: NumberField, message: string): SwatchError => ({
    kind,
    path: `${path}.${field}`,
    message: `${path}.${field} ${message}`,
  });
  for (const field of ABOVE_ZERO) {
    const value = swatch[field];
    if (value !== undefined && !(Number.isFinite(value) && value > 0))
      return fail('not-positive', field, `must be above 0, not ${value}`);
  }
  for (const field of ZERO_OR_MORE) {
    const value = swatch[field];
    if (value !== undefined && !(Number.isFinite(value) && value >= 0))
      return fail('negative', field, `must be 0 or more, not ${value}`);
  }
  for (const field of WHOLE) {
    const value = swatch[field];
    if (value !== undefined && !Number.isSafeInteger(value))
      return fail('not-whole', field, `must be a whole number, not ${value}`);
  }
  const missing = missingField(swatch);
  if (missing !== null) return fail('incomplete', missing, 'is missing beside the numbers it belongs with');

  const { cutMm, leftMm, knotting, carrier, rows } = swatch;
  if (cutMm === undefined || leftMm === undefined || knotting === undefined || carrier === undefined)
    return null;
  if (leftMm > cutMm)
    return fail('more-left-than-cut', 'leftMm', `is ${leftMm}, more than the ${cutMm} that was cut`);
  if (knotting + carrier === 0)
    return fail('no-knots', 'knotting', 'and carrier are both 0: the measured end was never tied');
  if (rows !== undefined && knotting + carrier > rows)
    return fail(
      'more-knots-than-rows',
      'knotting',
      `and carrier make ${knotting + carrier} knots, but an end is tied at most once in each of the ${rows} rows`,
    );
  return null;
}

function missingField(swatch: Swatch): NumberField | null {
  // Rows may stand without a height: they then say in how many rows the measured end hung untied.
  if (swatch.widthMm === undefined && swatch.strings !== undefined) return 'widthMm';
  if (swatch.widthMm !== undefined && swatch.strings === undefined) return 'strings';
  if (swatch.heightMm !== undefined && swatch.rows === undefined) return 'rows';
  const given = STRING_GROUP.filter((field) => swatch[field] !== undefined);
  if (given.length === 0 || given.length === STRING_GROUP.length) return null;
  return STRING_GROUP.find((field) => swatch[field] === undefined) ?? null;
}
