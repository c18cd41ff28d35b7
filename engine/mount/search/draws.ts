/** Random numbers that a seed repeats: G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003), no. 14. */
export class Draws {
  #state: number;

  /** @param seed any whole number */
  constructor(seed: number) {
    this.#state = Math.imul(seed + 1, 0x9e3779b1) || 1;
  }

  /** 32 random bits. */
  next(): number {
    let x = this.#state;
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    this.#state = x;
    return x >>> 0;
  }

  /** A whole number from 0 up to, not including, `end`. */
  below(end: number): number {
    return Math.floor((this.next() * end) / 2 ** 32);
  }
}
