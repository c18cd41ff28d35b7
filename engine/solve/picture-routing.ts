/** A target with its options as a routing, and a route as a board that is held against the target. */
import { isNeatOrder } from '../mount/index.ts';
import { type Board, type Pattern, rowParity, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { layKnots } from './lay-knots.ts';
import { ANY_COLOUR, ANY_KNOT, costOf, type Route, type Routing } from './routing.ts';
import type { ReadOptions } from './solve-options.ts';
import type { SolveTarget } from './target.ts';

/** Indices into the palette of the colours that strings may have: those wanted somewhere, or given at the top. */
export function hungColours({ rows, palette }: SolveTarget, { order }: ReadOptions): readonly number[] {
  const wanted = new Set<number>(typeof order === 'string' ? [] : order);
  for (const row of rows) for (const cell of row) if (cell >= 0) wanted.add(cell);
  const hung = palette.flatMap((_, colour) => (wanted.has(colour) ? [colour] : []));
  return hung.length === 0 ? [0] : hung;
}

/** What to route, with so many rows above the target in which any colour may show. */
export function routingOf(
  target: SolveTarget,
  options: ReadOptions,
  hung: readonly number[],
  leadInRows: number,
): Routing {
  const { strings } = target;
  const stride = rowStride(strings);
  const rows = leadInRows + target.rows.length;
  const numberOf = new Map(hung.map((colour, number) => [colour, number]));
  const wishes = new Int16Array(rows * stride).fill(ANY_COLOUR);
  const weights = new Int32Array(rows * stride);
  const kept = new Uint8Array(rows * stride).fill(ANY_KNOT);
  const cellAt = (row: number, k: number): number => (leadInRows + row) * stride + k;
  target.rows.forEach((row, r) => {
    row.forEach((colour, k) => {
      if (colour >= 0) wishes[cellAt(r, k)] = numberOf.get(colour)!;
      weights[cellAt(r, k)] = options.weights === null ? 1 : options.weights[r]![k]!;
    });
  });
  for (const { row, k, code } of options.keep) kept[cellAt(row, k)] = code;
  const { order, mostOdd } = options;
  return {
    strings,
    rows,
    start: rowParity(target.start, leadInRows),
    colours: hung.length,
    wishes,
    weights,
    kept,
    top: {
      given: typeof order === 'string' ? null : order.map((colour) => numberOf.get(colour)!),
      mirrored: order === 'mirrored',
      nested: order === 'nested',
      mostOdd,
    },
    bottom: null,
    seam: options.seamless ? leadInRows : -1,
  };
}

/** A board as it was woven, beside its target. */
export interface LaidOut {
  /** Its rows are those of the target, below the lead-in of `piece.leadInRows`. */
  readonly board: Board;
  /** Wanted cells that show another colour or none. */
  readonly wrong: number;
  /** Which, as row of the target and knot, in reading order. */
  readonly wrongCells: readonly (readonly [row: number, k: number])[];
  /** Sum of their weights; without weights their number. */
  readonly wrongWeight: number;
  /** Singles that mounting takes, as `planMount` counts them: colours with an odd number of strings. */
  readonly singles: number;
  /** Whether the order at the top mounts without crossings. */
  readonly neat: boolean;
}

/**
 * The board that a route stands for, woven and held against the target.
 * @param hung palette index of each colour of the routing
 * @throws Error when weaving does not give what the search claims
 */
export function layOut(
  target: SolveTarget,
  options: ReadOptions,
  routing: Routing,
  route: Route,
  hung: readonly number[],
): LaidOut {
  const { palette } = target;
  const { strings, start, rows } = routing;
  const leadInRows = rows - target.rows.length;
  const colours = Array.from(route.subarray(0, strings), (number) => palette[hung[number]!]!.id);
  const pattern: Pattern = {
    colours,
    start,
    rows,
    knots: layKnots(routing, route, { mayStayOpen: options.mayStayOpen }),
  };
  const { shown } = weave(pattern);
  const wrongCells: [number, number][] = [];
  let wrongWeight = 0;
  target.rows.forEach((row, r) => {
    row.forEach((wanted, k) => {
      if (wanted < 0) return;
      const string = shown[leadInRows + r]![k]!;
      if (string >= 0 && colours[string] === palette[wanted]!.id) return;
      wrongCells.push([r, k]);
      wrongWeight += options.weights === null ? 1 : options.weights[r]![k]!;
    });
  });
  const claimed = costOf(routing, route);
  if (claimed !== wrongWeight) throw new Error(`${wrongWeight} woven wrong, ${claimed} by the route`);
  const counts = new Map<string, number>();
  for (const colour of colours) counts.set(colour, (counts.get(colour) ?? 0) + 1);
  return {
    board: {
      title: '',
      palette,
      pattern,
      piece: leadInRows > 0 ? { leadInRows } : {},
      gauge: {},
      colourways: [],
    },
    wrong: wrongCells.length,
    wrongCells,
    wrongWeight,
    singles: [...counts.values()].filter((count) => count % 2 === 1).length,
    neat: isNeatOrder(colours),
  };
}
