/** Ordinary least squares by Householder reflections. */

export interface LinearFit {
  readonly coefficients: readonly number[];
  /** (XᵀX)⁻¹: times the variance of one measurement, it is the covariance matrix of the coefficients. */
  readonly covarianceFactors: readonly (readonly number[])[];
  /** Its diagonal. */
  readonly varianceFactors: readonly number[];
  readonly residualSumOfSquares: number;
  /** Measurements less coefficients. */
  readonly degreesOfFreedom: number;
  /** √(residual sum of squares / degrees of freedom); null without degrees of freedom. */
  readonly residualDeviation: number | null;
}

/**
 * Coefficients b that make |y - X b| least, with what their uncertainty follows from.
 * @param rows X, one row a measurement, all of one length p
 * @param y    one value a row
 * @returns null when the columns of X are dependent or there are fewer rows than columns: the measurements do not decide
 * @throws RangeError when lengths disagree
 * O(rows x p²). Source: G. H. Golub, "Numerical methods for solving linear least squares problems", Numer. Math. 7 (1965) 206-216.
 */
export function fitLeastSquares(
  rows: readonly (readonly number[])[],
  y: readonly number[],
): LinearFit | null {
  const p = rows[0]?.length ?? 0;
  if (y.length !== rows.length) throw new RangeError(`${rows.length} rows but ${y.length} values`);
  for (const row of rows)
    if (row.length !== p) throw new RangeError(`a row of ${row.length} among rows of ${p}`);
  if (p === 0 || rows.length < p) return null;
  const a = rows.map((row, i) => [...row, y[i] as number]);
  for (let j = 0; j < p; j++) if (!reflectColumn(a, j)) return null;
  const coefficients = solveUpper(
    a,
    Array.from({ length: p }, (_, i) => (a[i] as number[])[p] as number),
  );
  let residualSumOfSquares = 0;
  for (let i = p; i < a.length; i++) residualSumOfSquares += ((a[i] as number[])[p] as number) ** 2;
  const degreesOfFreedom = rows.length - p;
  const factors = covarianceFactors(a, p);
  return {
    coefficients,
    covarianceFactors: factors,
    varianceFactors: factors.map((row, i) => row[i] as number),
    residualSumOfSquares,
    degreesOfFreedom,
    residualDeviation: degreesOfFreedom > 0 ? Math.sqrt(residualSumOfSquares / degreesOfFreedom) : null,
  };
}

/** Reflects rows j and below so that column j is zero below the diagonal; false when it already depends on the columns before. */
function reflectColumn(a: readonly number[][], j: number): boolean {
  const column = a.map((row) => row[j] as number);
  const whole = Math.hypot(...column);
  const norm = Math.hypot(...column.slice(j));
  if (!(norm > 1e-10 * whole)) return false;
  const v = column.map((value, i) => (i < j ? 0 : value));
  v[j] = (v[j] as number) + ((v[j] as number) < 0 ? -norm : norm);
  const vv = v.reduce((sum, value) => sum + value * value, 0);
  const width = (a[0] as number[]).length;
  for (let c = j; c < width; c++) {
    let dot = 0;
    for (let i = j; i < a.length; i++) dot += (v[i] as number) * ((a[i] as number[])[c] as number);
    const scale = (2 * dot) / vv;
    for (let i = j; i < a.length; i++) {
      const row = a[i] as number[];
      row[c] = (row[c] as number) - scale * (v[i] as number);
    }
  }
  return true;
}

/** Solves R x = z for the upper triangle R in the first rows of `a`. */
function solveUpper(a: readonly (readonly number[])[], z: readonly number[]): number[] {
  const x = [...z];
  for (let i = z.length - 1; i >= 0; i--) {
    const row = a[i] as readonly number[];
    let sum = z[i] as number;
    for (let j = i + 1; j < z.length; j++) sum -= (row[j] as number) * (x[j] as number);
    x[i] = sum / (row[i] as number);
  }
  return x;
}

/** (XᵀX)⁻¹ = R⁻¹R⁻ᵀ: the inner products of the rows of R⁻¹. */
function covarianceFactors(a: readonly number[][], p: number): readonly (readonly number[])[] {
  const columns = Array.from({ length: p }, (_, j) =>
    solveUpper(
      a,
      Array.from({ length: p }, (__, i) => (i === j ? 1 : 0)),
    ),
  );
  return Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (__, k) =>
      columns.reduce((sum, column) => sum + (column[i] as number) * (column[k] as number), 0),
    ),
  );
}
