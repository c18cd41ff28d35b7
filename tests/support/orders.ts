/** Orders of strings (permutations), and bands that bring strings into an order. */
import { type Pattern, rowStride } from '../../engine/index.ts';

/** Every order of 0 to n - 1. */
export function allOrders(n: number): number[][] {
  if (n === 0) return [[]];
  return allOrders(n - 1).flatMap((order) =>
    Array.from({ length: n }, (_, at) => [...order.slice(0, at), n - 1, ...order.slice(at)]),
  );
}

/**
 * `n` staggered rows of forward knots and gaps after which string `order[p]` hangs at place p: wherever two neighbours stand
 * the wrong way round they change places (odd-even transposition).
 */
export function bandToOrder(order: readonly number[], start: 0 | 1 = 0): Pattern {
  const n = order.length;
  const goal = Array<number>(n);
  order.forEach((string, place) => {
    goal[string] = place;
  });
  const stride = rowStride(n);
  const knots = new Uint8Array(n * stride);
  for (let row = 0; row < n; row++)
    for (let place = (start + row) & 1; place + 1 < n; place += 2) {
      const [left, right] = [goal[place]!, goal[place + 1]!];
      if (left < right) continue;
      knots[row * stride + (place >> 1)] = 1;
      goal[place] = right;
      goal[place + 1] = left;
    }
  return { colours: order.map((_, string) => `s${string}`), start, rows: n, knots };
}

/** An order whose cycles have the given lengths. */
export function orderOfCycles(lengths: readonly number[]): number[] {
  const order: number[] = [];
  for (const length of lengths) {
    const first = order.length;
    for (let i = 0; i < length; i++) order.push(first + ((i + 1) % length));
  }
  return order;
}

/** Every way to write n as a sum, parts in falling order. */
export function partitions(n: number, most = n): number[][] {
  if (n === 0) return [[]];
  return Array.from({ length: Math.min(n, most) }, (_, i) => i + 1).flatMap((part) =>
    partitions(n - part, part).map((rest) => [part, ...rest]),
  );
}
