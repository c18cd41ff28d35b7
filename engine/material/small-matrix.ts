/** Matrices of a few rows, as lists of rows. */

export type Matrix = readonly (readonly number[])[];

export function transpose(a: Matrix): Matrix {
  return (a[0] ?? []).map((_, j) => a.map((row) => row[j] as number));
}

/** Product; the columns of `a` are the rows of `b`. */
export function multiply(a: Matrix, b: Matrix): Matrix {
  const columns = b[0]?.length ?? 0;
  return a.map((row) =>
    Array.from({ length: columns }, (_, j) =>
      row.reduce((sum, value, k) => sum + value * ((b[k] as readonly number[])[j] as number), 0),
    ),
  );
}

/** Inverse of a symmetric matrix that is positive definite, by Gauss and Jordan; numbers that are not finite where it is not. */
export function invert(a: Matrix): Matrix {
  const size = a.length;
  const rows = a.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let k = 0; k < size; k++) {
    const pivotRow = rows[k] as number[];
    const pivot = pivotRow[k] as number;
    for (let j = 0; j < 2 * size; j++) pivotRow[j] = (pivotRow[j] as number) / pivot;
    for (let i = 0; i < size; i++) {
      const row = rows[i] as number[];
      const factor = row[k] as number;
      if (i === k || factor === 0) continue;
      for (let j = 0; j < 2 * size; j++) row[j] = (row[j] as number) - factor * (pivotRow[j] as number);
    }
  }
  return rows.map((row) => row.slice(size));
}
