/** A knot was tied wrongly: which kinds the knots not yet tied should have, so that the band comes back to what was meant. */
import { type Board, codeOfToken, type KnotToken, type Pattern, rowStride } from '../pattern/index.ts';
import { weave } from '../weave/index.ts';
import { Budget, type Watch } from './budget.ts';
import { fewestWrong } from './fewest-wrong.ts';
import { layKnots } from './lay-knots.ts';
import { ANY_COLOUR, ANY_KNOT, ANY_ORDER, eachKnot, type Routing, windowOf } from './routing.ts';
import { answerOrError, asFields, asList, asWhole, Refusal, type SolveError } from './solve-error.ts';
import { DEFAULT_STEPS } from './solve-options.ts';

/** A knot of the pattern. */
interface KnotPlace {
  readonly row: number;
  readonly k: number;
}

/** A band put right below a mistake. Every figure was counted on the woven band. */
interface Mended {
  readonly ok: true;
  /** The pattern with the knot as it was tied, and other kinds for knots not yet tied where that helps. */
  readonly pattern: Pattern;
  /** Knots not yet tied that show another colour than the board meant. */
  readonly wrong: number;
  /** Which, in reading order. */
  readonly wrongCells: readonly (readonly [row: number, k: number])[];
  /** Proven: no kinds of the knots not yet tied leave fewer. */
  readonly lowerBound: number;
  /** Whether `wrong` is proven to be the fewest. */
  readonly proven: boolean;
}

/** What {@link mend} is told besides. */
interface MendOptions extends Watch {
  /** Steps after which the best found is given. */
  readonly steps?: number;
}

/**
 * What to tie after a knot that was tied as another kind than the board says: of the kinds that the knots not yet tied can have, those with
 * which the fewest of them show another colour than the board meant. The same search as {@link solvePicture}, with the order at the top and
 * the knots already tied held; untied pairs stay untied.
 * @param done  knots tied so far, closed under what they hang on
 * @param knot  one of them, and the kind it was tied as
 * @returns the band, or what is wrong with the arguments. Of equals, knots keep the kind that the board says where that shows the same.
 * Rule Z16.
 */
export function mend(
  board: Board,
  done: readonly KnotPlace[],
  knot: KnotPlace & { readonly kind: KnotToken },
  options: MendOptions = {},
): Mended | { readonly ok: false; readonly error: SolveError } {
  return answerOrError(() => {
    const { pattern } = board;
    const tied = readDone(pattern, done);
    const held = heldKnots(pattern, tied, knot);
    const steps =
      options.steps === undefined ? DEFAULT_STEPS : asWhole(options.steps, 'options.steps', 1, 1e12);
    return solve(pattern, tied, held, new Budget(steps, options));
  });
}

/** Cells of the knots that are tied. @throws Refusal for one that is not there, is untied, or hangs on one that is not tied */
function readDone(pattern: Pattern, done: unknown): ReadonlySet<number> {
  const stride = rowStride(pattern.colours.length);
  const tied = new Set<number>();
  asList(done, 'done').forEach((entry, i) => {
    tied.add(readCell(pattern, entry, `done[${i}]`));
  });
  const lastTied = new Map<number, number>();
  const { order } = weave(pattern);
  eachKnot(
    { strings: pattern.colours.length, start: pattern.start },
    0,
    pattern.rows,
    ({ row, k, cell, place }) => {
      if (pattern.knots[cell] === 0) return;
      for (const string of [order[row]![place]!, order[row]![place + 1]!]) {
        const above = lastTied.get(string);
        if (tied.has(cell) && above !== undefined && !tied.has(above))
          throw new Refusal(
            'cannot-be',
            'done',
            `knot ${k} of row ${row} hangs on knot ${above % stride} of row ${Math.floor(above / stride)}, which is not among them`,
          );
        lastTied.set(string, cell);
      }
    },
  );
  return tied;
}

function readCell(pattern: Pattern, entry: unknown, path: string): number {
  const fields = asFields(entry, path);
  const strings = pattern.colours.length;
  const row = asWhole(fields.row, `${path}.row`, 0, pattern.rows - 1);
  const count = (strings - ((pattern.start + row) & 1)) >> 1;
  const k = asWhole(fields.k, `${path}.k`, 0, count - 1);
  const cell = row * rowStride(strings) + k;
  if (pattern.knots[cell] === 0) throw new Refusal('unknown-knot', path, 'is an untied pair');
  return cell;
}

/** The knots of the pattern with the wrong one, {@link ANY_KNOT} for those that are still to be tied. */
function heldKnots(pattern: Pattern, tied: ReadonlySet<number>, knot: unknown): Uint8Array {
  const cell = readCell(pattern, knot, 'knot');
  if (!tied.has(cell)) throw new Refusal('cannot-be', 'knot', 'is not among those that are done');
  const { kind } = asFields(knot, 'knot');
  const code = typeof kind === 'string' ? codeOfToken(kind) : undefined;
  if (code === undefined || code === 0) throw new Refusal('unknown-knot', 'knot.kind', { be: 'knot' }, kind);
  const held = pattern.knots.map((own, at) => (own === 0 || tied.has(at) ? own : ANY_KNOT));
  held[cell] = code;
  return held;
}

function solve(pattern: Pattern, tied: ReadonlySet<number>, held: Uint8Array, budget: Budget): Mended {
  const { colours: ids, start, rows } = pattern;
  const strings = ids.length;
  const palette = [...new Set(ids)];
  const top = ids.map((id) => palette.indexOf(id));
  const { shownFlat } = weave(pattern);
  const isOpen = (cell: number): boolean => pattern.knots[cell] !== 0 && !tied.has(cell);
  const routing: Routing = {
    strings,
    rows,
    start,
    colours: palette.length,
    wishes: Int16Array.from(shownFlat, (string, cell) => (isOpen(cell) ? top[string]! : ANY_COLOUR)),
    weights: new Int32Array(shownFlat.length).fill(1),
    kept: held,
    top: { ...ANY_ORDER, given: top },
    bottom: null,
    seam: -1,
  };
  // As if nothing had been noticed: the knots that follow are tied as they stand.
  const asItStands = {
    ...pattern,
    knots: held.map((code, at) => (code === ANY_KNOT ? pattern.knots[at]! : code)),
  };
  const near = Uint8Array.from(weave(asItStands).orderFlat, (string) => top[string]!);
  // Rows above the first knot that is still to be tied are as they are.
  let from = 0;
  const stride = rowStride(strings);
  while (
    from < rows &&
    !pattern.knots.subarray(from * stride, (from + 1) * stride).some((_, k) => isOpen(from * stride + k))
  )
    from++;
  const below = windowOf(routing, from, rows, { above: near, below: null });
  const found = fewestWrong(below, budget, { near: near.slice(from * strings) });
  if (found.route === null) throw new Error('a band that stands as it is was not found');
  const route = near.slice();
  route.set(found.route, from * strings);
  const mended: Pattern = { ...pattern, knots: layKnots(routing, route, { preferred: pattern.knots }) };
  const { shown } = weave(mended);
  const wrongCells: [number, number][] = [];
  eachKnot(routing, 0, rows, ({ row, k, cell }) => {
    if (isOpen(cell) && ids[shown[row]![k]!] !== ids[shownFlat[cell]!]) wrongCells.push([row, k]);
  });
  const wrong = wrongCells.length;
  if (wrong !== found.cost) throw new Error(`${wrong} woven wrong, ${found.cost} by the route`);
  const { lowerBound } = found;
  return { ok: true, pattern: mended, wrong, wrongCells, lowerBound, proven: wrong <= lowerBound };
}
