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
export interface Mended {
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
export interface MendOptions extends Watch {
  /** Steps after which the best found is given. */
  readonly steps?: number;
  /** Told each better band, the first one at once, with what is proven so far. */
  readonly onBest?: ((mended: Mended) => void) | undefined;
}

/** A band of which some knots are settled. */
export interface HeldBand {
  /** As it was meant. */
  readonly meant: Pattern;
  /** Kinds by cell, {@link ANY_KNOT} for those to be chosen. */
  readonly held: Uint8Array;
  /** Kinds that those have to begin with; each keeps its own where it then leads and shows the same. */
  readonly preferred: Uint8Array;
  /** Whether the colour that a cell was meant to show counts. */
  readonly isWanted: (cell: number) => boolean;
}

/**
 * What to tie after a knot that was tied as another kind than the board says: of the kinds that the knots not yet tied can have, those with
 * which the fewest of them show another colour than the board meant. The same search as {@link solvePicture}, with the order at the top and
 * the knots already tied held; untied pairs stay untied.
 * @param done  knots tied so far, closed under what they hang on
 * @param knot  one of them, and the kind it was tied as; `-` where it was left out
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
    const isWanted = (cell: number): boolean => pattern.knots[cell] !== 0 && !tied.has(cell);
    return solve(
      { meant: pattern, held, preferred: pattern.knots, isWanted },
      new Budget(steps, options),
      options,
    );
  });
}

/**
 * {@link mend} for a band of which any knots are settled, whatever is right about them.
 * @throws RangeError when the lists are not as long as the band's knots
 * Rule H35.
 */
export function mendBand(band: HeldBand, options: MendOptions = {}): Mended {
  const { length } = band.meant.knots;
  if (band.held.length !== length || band.preferred.length !== length)
    throw new RangeError(`${band.held.length} and ${band.preferred.length} kinds for ${length} knots`);
  return solve(band, new Budget(options.steps ?? DEFAULT_STEPS, options), options);
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
  if (code === undefined) throw new Refusal('unknown-knot', 'knot.kind', { be: 'knot' }, kind);
  const held = pattern.knots.map((own, at) => (own === 0 || tied.has(at) ? own : ANY_KNOT));
  held[cell] = code;
  return held;
}

function solve(
  { meant: pattern, held, preferred, isWanted }: HeldBand,
  budget: Budget,
  { onBest }: MendOptions,
): Mended {
  const { colours: ids, start, rows } = pattern;
  const strings = ids.length;
  const palette = [...new Set(ids)];
  const top = ids.map((id) => palette.indexOf(id));
  const { shownFlat } = weave(pattern);
  const routing: Routing = {
    strings,
    rows,
    start,
    colours: palette.length,
    wishes: Int16Array.from(shownFlat, (string, cell) => (isWanted(cell) ? top[string]! : ANY_COLOUR)),
    weights: new Int32Array(shownFlat.length).fill(1),
    kept: held,
    top: { ...ANY_ORDER, given: top },
    bottom: null,
    seam: -1,
  };
  // As if nothing had been noticed: the knots that follow are tied as they stand.
  const asItStands = {
    ...pattern,
    knots: held.map((code, at) => (code === ANY_KNOT ? preferred[at]! : code)),
  };
  const near = Uint8Array.from(weave(asItStands).orderFlat, (string) => top[string]!);
  // Rows above the first knot that is still to be tied are as they are.
  let from = 0;
  const stride = rowStride(strings);
  const isSettled = (row: number): boolean =>
    !held.subarray(row * stride, (row + 1) * stride).includes(ANY_KNOT) &&
    !routing.wishes.subarray(row * stride, (row + 1) * stride).some((wish) => wish !== ANY_COLOUR);
  while (from < rows && isSettled(from)) from++;
  const below = windowOf(routing, from, rows, { above: near, below: null });
  const mendedBy = (found: Uint8Array, cost: number, lowerBound: number): Mended => {
    const route = near.slice();
    route.set(found, from * strings);
    const mended: Pattern = { ...pattern, knots: layKnots(routing, route, { preferred }) };
    const { shown } = weave(mended);
    const wrongCells: [number, number][] = [];
    eachKnot(routing, 0, rows, ({ row, k, cell }) => {
      if (isWanted(cell) && ids[shown[row]![k]!] !== ids[shownFlat[cell]!]) wrongCells.push([row, k]);
    });
    const wrong = wrongCells.length;
    if (wrong !== cost) throw new Error(`${wrong} woven wrong, ${cost} by the route`);
    return { ok: true, pattern: mended, wrong, wrongCells, lowerBound, proven: wrong <= lowerBound };
  };
  const found = fewestWrong(below, budget, {
    near: near.slice(from * strings),
    onBest: (route, cost, lowerBound) => onBest?.(mendedBy(route, cost, lowerBound)),
  });
  if (found.route === null) throw new Error('a band that stands as it is was not found');
  return mendedBy(found.route, found.cost, found.lowerBound);
}
