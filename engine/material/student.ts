/** Student's t distribution: how far a value may lie off when its standard error itself was measured only a few times. */

const MOST_TERMS = 20_000;
/** Newton's steps; a handful is enough but for very few degrees of freedom far out. */
const MOST_STEPS = 200;

/**
 * Probability that a t-distributed value lies above `t`.
 * @param freedom degrees of freedom, above 0 and not only whole; null = known well, the normal distribution
 * @throws RangeError when `freedom` is not above 0
 * Half the regularised incomplete beta function of freedom/2 and 1/2 at freedom/(freedom + t²). Source: M. Abramowitz, I. A. Stegun,
 * "Handbook of Mathematical Functions", 26.7.1 and 26.5.8.
 */
export function studentTail(t: number, freedom: number | null): number {
  if (freedom !== null && !(freedom > 0))
    throw new RangeError(`degrees of freedom must be above 0, not ${freedom}`);
  if (t < 0) return 1 - studentTail(-t, freedom);
  if (freedom === null) return normalTail(t);
  const whole = freedom + t * t;
  return 0.5 * incompleteBeta(freedom / whole, (t * t) / whole, freedom / 2, 0.5);
}

/**
 * The value below which a t-distributed one stays with probability `p`.
 * @param p above 0 and below 1
 * @param freedom as for {@link studentTail}
 * @throws RangeError when `p` is not between 0 and 1, or `freedom` not above 0
 * Newton's method from an asymptotic expansion (26.7.5 there); the tail is convex, so that it closes in from below. To nine digits and, as the
 * steps get shorter by squares, about as far as the tail itself goes.
 */
export function studentQuantile(p: number, freedom: number | null): number {
  if (!(p > 0 && p < 1)) throw new RangeError(`a probability must lie between 0 and 1, not ${p}`);
  if (p < 0.5) return -studentQuantile(1 - p, freedom);
  if (p === 0.5) return 0;
  const above = 1 - p;
  const density = densityOf(freedom);
  let t = Math.max(1e-6, firstGuess(above, freedom));
  for (let step = 0; step < MOST_STEPS; step++) {
    const next = t + (studentTail(t, freedom) - above) / density(t);
    // A step from far out on the flat side may cross the middle.
    const kept = next > 0 ? next : t / 2;
    if (Math.abs(kept - t) <= 1e-13 + 1e-9 * kept) return kept;
    t = kept;
  }
  throw new RangeError(`the quantile of ${p} with ${freedom} degrees of freedom does not settle`);
}

/** Within a thousandth for the normal distribution (26.2.23), and near enough for others. */
function firstGuess(above: number, freedom: number | null): number {
  const r = Math.sqrt(-2 * Math.log(above));
  const z =
    r - (2.515517 + r * (0.802853 + r * 0.010328)) / (1 + r * (1.432788 + r * (0.189269 + r * 0.001308)));
  if (freedom === null) return z;
  return z + (z ** 3 + z) / (4 * freedom) + (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * freedom ** 2);
}

function densityOf(freedom: number | null): (t: number) => number {
  if (freedom === null) return (t) => Math.exp((-t * t) / 2) / Math.sqrt(2 * Math.PI);
  const half = (freedom + 1) / 2;
  const height = Math.exp(logGamma(half) - logGamma(freedom / 2)) / Math.sqrt(freedom * Math.PI);
  return (t) => height * Math.exp(-half * Math.log1p((t * t) / freedom));
}

/** The same for the normal distribution, t >= 0: a series near the middle, else a continued fraction. 26.2.11 and 26.2.14 there. */
function normalTail(t: number): number {
  const density = Math.exp((-t * t) / 2) / Math.sqrt(2 * Math.PI);
  if (t > 3) {
    let fraction = t;
    for (let k = 150; k >= 1; k--) fraction = t + k / fraction;
    return density / fraction;
  }
  let term = t;
  let sum = t;
  for (let k = 3; Math.abs(term) > 1e-17; k += 2) {
    term *= (t * t) / k;
    sum += term;
  }
  return 0.5 - density * sum;
}

/** I_x(a, b), by its continued fraction where that is quick; `y` is 1 - x, told so that next to 1 no digits are lost. */
function incompleteBeta(x: number, y: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (y <= 0) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(y, x, b, a);
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * logOf(x, y) + b * logOf(y, x));
  return (front / a) * betaFraction(x, a, b);
}

/** ln x of two parts x and y of 1, without losing digits next to 1. */
function logOf(x: number, y: number): number {
  return y < 0.5 ? Math.log1p(-y) : Math.log(x);
}

/** The fraction of 26.5.8 from its front, by Lentz's method. */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const kept = (value: number): number => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / kept(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m <= MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / kept(1 + even * d);
    c = kept(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / kept(1 + odd * d);
    c = kept(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < 1e-15) return fraction;
  }
  throw new RangeError(`the incomplete beta function of ${a}, ${b} at ${x} does not settle`);
}

/** ln Γ(x) for x > 0: Stirling's series, reached by the recurrence. 6.1.41 of the same handbook. */
function logGamma(x: number): number {
  let shift = 0;
  let z = x;
  for (; z < 12; z++) shift += Math.log(z);
  const r = 1 / (z * z);
  const series = (1 / 12 - r * (1 / 360 - r * (1 / 1260 - r * (1 / 1680 - r / 1188)))) / z;
  return (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series - shift;
}
