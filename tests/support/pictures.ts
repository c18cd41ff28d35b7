/** Pictures to solve: possible ones by construction, those with some cells changed, drawn ones; and the plain way to the fewest wrong. */
import { knotsInRow, type PaletteColour, rowParity, weave } from '../../engine/index.ts';
import type { SolveTarget } from '../../engine/solve/target.ts';
import { type SeededRandom, seededRandom } from './seeded-random.ts';

export interface PictureSize {
  readonly strings: number;
  readonly rows: number;
  readonly colours: number;
}

/** So many colours, `c0`, `c1`, … */
export function paletteOf(count: number): PaletteColour[] {
  return Array.from({ length: count }, (_, i) => ({
    id: `c${i}`,
    name: '',
    hex: `#${(0x203040 + i * 0x0b1107).toString(16)}`,
  }));
}

/** A target from rows of indices into so many colours. */
export function targetOf(
  strings: number,
  start: 0 | 1,
  colours: number,
  rows: readonly (readonly number[])[],
): SolveTarget {
  return { strings, start, rows, palette: paletteOf(colours) };
}

/** `random`: any knots. `symmetric`: order and knots mirrored. `few`: two or three colours. `sparse`: a part of the cells is wanted. */
export type PossibleKind = 'random' | 'symmetric' | 'few' | 'sparse';
export const POSSIBLE_KINDS: readonly PossibleKind[] = ['random', 'symmetric', 'few', 'sparse'];

/** A picture that some knots show, and the order at the top with which they do. */
export function possiblePicture(
  seed: number,
  { strings, rows, colours }: PictureSize,
  kind: PossibleKind = 'random',
): { readonly target: SolveTarget; readonly order: readonly string[] } {
  const random = seededRandom(seed);
  const start = random.below(2) as 0 | 1;
  const used = kind === 'few' ? Math.min(colours, 2 + random.below(2)) : colours;
  const top = Array.from({ length: strings }, () => random.below(used));
  if (kind === 'symmetric') for (let p = 0; p < strings >> 1; p++) top[strings - 1 - p] = top[p]!;
  const share = 0.2 + 0.6 * random.next();
  const stride = strings >> 1;
  const knots = new Uint8Array(rows * stride);
  const mirrored = [0, 2, 1, 4, 3];
  for (let row = 0; row < rows; row++) {
    const count = knotsInRow(strings, rowParity(start, row));
    for (let k = 0; k < count; k++)
      knots[row * stride + k] = (random.chance(share) ? 1 : 3) + random.below(2);
    if (kind === 'symmetric')
      for (let k = 0; k < count >> 1; k++)
        knots[row * stride + count - 1 - k] = mirrored[knots[row * stride + k]!]!;
  }
  const order = top.map((colour) => `c${colour}`);
  const wanted = kind === 'sparse' ? 0.3 + 0.5 * random.next() : 1;
  const picture = weave({ colours: order, start, rows, knots }).shown.map((row) =>
    Array.from(row, (string) => (random.chance(wanted) ? top[string]! : -1)),
  );
  return { target: targetOf(strings, start, colours, picture), order };
}

/** A possible picture in which a share of the cells has another colour; most such pictures are impossible. */
export function changedPicture(seed: number, size: PictureSize, share: number): SolveTarget {
  const { target } = possiblePicture(seed, size);
  const random = seededRandom(seed * 7919 + 13);
  const rows = target.rows.map((row) => [...row]);
  const cells = random.shuffle(rows.flatMap((row, r) => row.map((_, k) => [r, k] as const)));
  for (const [r, k] of cells.slice(0, Math.round(cells.length * share)))
    rows[r]![k] = (rows[r]![k]! + 1 + random.below(size.colours - 1)) % size.colours;
  return { ...target, rows };
}

/** Some flat shapes, one over the other, as one would draw an icon. */
export function drawnPicture(seed: number, { strings, rows, colours }: PictureSize): SolveTarget {
  const random = seededRandom(seed * 31 + 7);
  const start = random.below(2) as 0 | 1;
  const shapes = Array.from({ length: 3 + random.below(5) }, () => shapeOf(random, strings, rows, colours));
  const picture = Array.from({ length: rows }, (_, row) => {
    const parity = rowParity(start, row);
    return Array.from({ length: knotsInRow(strings, parity) }, (_, k) =>
      shapes.reduce((colour, shape) => (shape.covers(2 * k + parity + 0.5, row) ? shape.colour : colour), 0),
    );
  });
  return targetOf(strings, start, colours, picture);
}

interface Shape {
  readonly colour: number;
  covers(x: number, y: number): boolean;
}

function shapeOf(random: SeededRandom, strings: number, rows: number, colours: number): Shape {
  const x = random.next() * strings;
  const y = random.next() * rows;
  const wide = 1.5 + (random.next() * strings) / 3;
  const high = 1.5 + (random.next() * rows) / 5;
  const colour = random.below(colours);
  const kind = random.below(3);
  return {
    colour,
    covers: (atX, atY) => {
      const dx = Math.abs(atX - x) / wide;
      const dy = Math.abs(atY - y) / high;
      return kind === 0 ? dx * dx + dy * dy < 1 : kind === 1 ? dx + dy < 1 : Math.max(dx, dy) < 0.8;
    },
  };
}

/** What {@link leastWrong} minds besides the picture. */
export interface PlainRules {
  /** Whether an order may hang at the top. */
  readonly mayHang?: (order: readonly number[]) => boolean;
  readonly weights?: readonly (readonly number[])[];
  /** Knot code that a cell must have. */
  readonly kept?: ReadonlyMap<string, number>;
  readonly seamless?: boolean;
}

/**
 * The least sum of weights of wrong cells, by following every order of colours down the band, knot by knot; Infinity when no order may hang.
 * Only for few strings and colours: it visits colours ** strings orders for every knot, and again for every order at the top when seamless.
 */
export function leastWrong(target: SolveTarget, rules: PlainRules = {}): number {
  const { strings } = target;
  const colours = target.palette.length;
  const tops: number[][] = [];
  for (let code = 0; code < colours ** strings; code++) {
    const order = Array.from({ length: strings }, (_, p) => Math.floor(code / colours ** p) % colours);
    if (rules.mayHang?.(order) !== false) tops.push(order);
  }
  if (rules.seamless === true)
    return Math.min(Infinity, ...tops.map((top) => follow(target, [top], rules).get(top.join()) ?? Infinity));
  return Math.min(Infinity, ...follow(target, tops, rules).values());
}

/** The least cost of every order that can hang below the last row. */
function follow(
  target: SolveTarget,
  tops: readonly number[][],
  { weights, kept }: PlainRules,
): Map<string, number> {
  let costs = new Map(tops.map((top) => [top.join(), 0]));
  target.rows.forEach((row, r) => {
    row.forEach((wanted, k) => {
      const place = 2 * k + rowParity(target.start, r);
      const code = kept?.get(`${r} ${k}`);
      const weight = weights === undefined ? 1 : weights[r]![k]!;
      const next = new Map<string, number>();
      for (const [key, cost] of costs) {
        const order = key.split(',').map(Number);
        const [left, right] = [order[place]!, order[place + 1]!];
        const shown = code === undefined ? [left, right] : code === 0 ? [] : [code % 2 === 1 ? left : right];
        const after = cost + (wanted < 0 || shown.includes(wanted) ? 0 : weight);
        const exchanged = order
          .with(place, right)
          .with(place + 1, left)
          .join();
        if (code === undefined || code === 0 || code > 2)
          next.set(key, Math.min(after, next.get(key) ?? Infinity));
        if (code === undefined || code === 1 || code === 2)
          next.set(exchanged, Math.min(after, next.get(exchanged) ?? Infinity));
      }
      costs = next;
    });
  });
  return costs;
}
