/**
 * The law of propagation of uncertainty. Source: JCGM 100:2008, "Guide to the expression of uncertainty in measurement" (GUM), 5.2
 * (correlated inputs), G.4 (effective degrees of freedom), G.3 (coverage factor from the t distribution).
 */
import { studentQuantile } from './student.ts';

/** Degrees of freedom beyond which the factor is that of the normal distribution in all digits that are shown. */
const MOST_FREEDOM = 1e6;
/** No coverage factor is less: that of the normal distribution is 1.95996. */
const LEAST_FACTOR = 1.9599;

/** Part of the cases in which what is really needed lies within ± of what is told. */
const COVERAGE = 0.95;

/**
 * One cause of error: what one standard deviation of it does to each of the inputs at once. Different sources are independent;
 * inputs that share one are correlated. Sources of one `cause` were estimated together and have its degrees of freedom.
 */
export interface ErrorSource {
  readonly cause: string;
  /** Degrees of freedom of its standard deviation; null = known well. */
  readonly freedom: number | null;
  readonly effect: readonly number[];
}

/** How sure a length is; in mm. */
export interface Doubt {
  /** Standard uncertainty. */
  readonly standardMm: number;
  /** Effective degrees of freedom, not only whole; null = without limit. */
  readonly freedom: number | null;
  /** Expanded uncertainty: in {@link COVERAGE} of the cases what is really needed lies within it on either side. */
  readonly plusMinusMm: number;
}

/** Something else that varies by itself, such as one string from the next, and with which cause its variance was estimated. */
export interface OwnVariance {
  readonly cause: string;
  readonly freedom: number | null;
  readonly variance: number;
}

/**
 * Uncertainty of a value that depends on the inputs by `sensitivity` (its derivative by each): every source acts as a whole, so that what
 * is taken many times from one input adds up linearly.
 * @param sensitivity one for each input
 * @param own         variance of its own besides
 * @param most        null is given for what can be told at once to be no less than this; to spare its quantile
 * Rule L15. O(sources x inputs).
 */
export function propagate(
  sensitivity: readonly number[],
  sources: readonly ErrorSource[],
  own?: OwnVariance | null,
): Doubt;
export function propagate(
  sensitivity: readonly number[],
  sources: readonly ErrorSource[],
  own: OwnVariance | null,
  most: number,
): Doubt | null;
export function propagate(
  sensitivity: readonly number[],
  sources: readonly ErrorSource[],
  own: OwnVariance | null = null,
  most = Number.POSITIVE_INFINITY,
): Doubt | null {
  const causes = new Map<string, { variance: number; freedom: number | null }>();
  const add = (cause: string, freedom: number | null, variance: number): void => {
    const known = causes.get(cause);
    if (known === undefined) causes.set(cause, { variance, freedom });
    else known.variance += variance;
  };
  for (const { cause, freedom, effect } of sources) {
    const part = effect.reduce((sum, value, i) => sum + value * (sensitivity[i] as number), 0);
    add(cause, freedom, part * part);
  }
  if (own !== null) add(own.cause, own.freedom, own.variance);
  const parts = [...causes.values()];
  const standardMm = Math.sqrt(parts.reduce((sum, { variance }) => sum + variance, 0));
  if (standardMm * LEAST_FACTOR >= most) return null;
  const freedom = effectiveFreedom(
    parts.map((part) => ({ standard: Math.sqrt(part.variance), freedom: part.freedom })),
  );
  return { standardMm, freedom, plusMinusMm: standardMm * coverageFactor(standardMm, freedom) };
}

function coverageFactor(standardMm: number, freedom: number | null): number {
  return standardMm === 0 ? 0 : studentQuantile((1 + COVERAGE) / 2, freedom);
}

/**
 * Effective degrees of freedom of a sum of independent parts, by the formula of Welch and Satterthwaite (GUM, G.2b); null where no part
 * limits them. Rule L16.
 */
export function effectiveFreedom(
  parts: readonly { readonly standard: number; readonly freedom: number | null }[],
): number | null {
  const whole = parts.reduce((sum, { standard }) => sum + standard ** 2, 0);
  let limit = 0;
  for (const { standard, freedom } of parts)
    if (freedom !== null && standard > 0) limit += (standard ** 2 / whole) ** 2 / freedom;
  return 1 / limit > MOST_FREEDOM ? null : 1 / limit;
}

/**
 * Independent sources that give a covariance matrix (its Cholesky factor, column by column); null when no values have such covariances.
 * @param covariance symmetric
 */
export function sourcesOf(
  covariance: readonly (readonly number[])[],
  cause: string,
  freedom: number | null,
): readonly ErrorSource[] | null {
  const size = covariance.length;
  const columns: number[][] = [];
  for (let j = 0; j < size; j++) {
    const column = new Array<number>(size).fill(0);
    for (let i = j; i < size; i++) {
      const shared = columns.reduce(
        (sum, earlier) => sum + (earlier[i] as number) * (earlier[j] as number),
        0,
      );
      const rest = ((covariance[i] as readonly number[])[j] as number) - shared;
      if (i === j) {
        if (rest < -1e-9 * ((covariance[j] as readonly number[])[j] as number)) return null;
        column[j] = Math.sqrt(Math.max(0, rest));
      } else column[i] = column[j] === 0 ? 0 : rest / (column[j] as number);
    }
    columns.push(column);
  }
  return columns.map((effect) => ({ cause, freedom, effect }));
}
