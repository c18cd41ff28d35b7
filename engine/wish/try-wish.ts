/** Boards for a wish, each under other conditions: what each of them can show says what the wish would take. */
import { differences, labInEachSight } from '../colour/index.ts';
import { type Board, type ColourId, MAX_STRINGS, type Pattern } from '../pattern/index.ts';
import { solvePicture } from '../solve/index.ts';
import { fitWish, OPEN, type Wish } from './wish.ts';

/**
 * Under what: the colours at the top as they hang now; in an order that mounts neatly; in a mirrored one; neatly with up to two lead-in rows more; with one more pair
 * of strings at the right; with two colours made one.
 */
type TrialKind = 'as-it-hangs' | 'neat' | 'mirrored' | 'lead-in' | 'wider' | 'joined';

/** A board for a wish. Every figure was counted on the woven board. */
export interface Trial {
  readonly kind: TrialKind;
  /** The board given, with another pattern, and its lead-in rows. */
  readonly board: Board;
  /** Rows above those of the wish. */
  readonly newRows: number;
  /** Cells that show another colour than is wanted, by row and knot of the wish. */
  readonly wrongCells: readonly (readonly [row: number, k: number])[];
  /** Whether no board shows more of it under that condition. */
  readonly proven: boolean;
  /** The colours made one: wherever the second is wanted, the first counts as well; else null. */
  readonly joined: readonly [ColourId, ColourId] | null;
}

/** How a wish is tried. */
interface TrialOptions {
  /** Whether the rows are to repeat without a seam; default false. */
  readonly seamless?: boolean;
  /** Steps of each trial; default {@link TRIAL_STEPS}. */
  readonly steps?: number;
  /** Told all boards so far as soon as there is one more. */
  readonly onTrial?: (trials: readonly Trial[]) => void;
  /** Told the share done, rising to 1. */
  readonly onProgress?: (share: number) => void;
}

/** About a second each. */
const TRIAL_STEPS = 30_000_000;
const MOST_LEAD_IN = 2;
const MORE_STRINGS = 2;

type SolveOptions = NonNullable<Parameters<typeof solvePicture>[1]>;

/**
 * Tries a wish on a board's strings and rows. What would take more than the board has (lead-in rows, strings, fewer colours) is tried only as long as nothing else shows
 * all of it. Of boards of one pattern the first is given.
 * @param wish of as many strings and rows as the board, in colours of its palette; of one in which nothing is wanted there are no trials
 * @throws RangeError for a wish of another size or in other colours. Same input, same answer. Rules J54 to J57.
 */
export function tryWish(board: Board, wish: Wish, options: TrialOptions = {}): readonly Trial[] {
  assertFits(board, wish);
  const { seamless = false, steps = TRIAL_STEPS, onTrial, onProgress } = options;
  const trials: Trial[] = [];
  const wanted = wantedColours(wish);
  if (wanted.length === 0) return trials;
  const isMet = (): boolean => trials.some(({ wrongCells }) => wrongCells.length === 0);
  const isMetNeatly = (): boolean =>
    trials.some(({ kind, wrongCells }) => kind !== 'as-it-hangs' && wrongCells.length === 0);
  const attempts: readonly (readonly [TrialKind, () => boolean, (share: number, whole: number) => void])[] = [
    ['as-it-hangs', () => true, run('as-it-hangs', wish, { order: board.pattern.colours })],
    ['neat', () => true, run('neat', wish, { order: 'nested' })],
    ['mirrored', () => true, run('mirrored', wish, { order: 'mirrored' })],
    ['lead-in', () => !isMetNeatly(), run('lead-in', wish, { order: 'nested', leadInRows: MOST_LEAD_IN })],
    ['wider', () => !isMet() && wish.strings + MORE_STRINGS <= MAX_STRINGS, runWider],
    ['joined', () => !isMet() && wanted.length > 2, runJoined],
  ];
  attempts.forEach(([, isTried, attempt], i) => {
    if (isTried()) attempt(i / attempts.length, 1 / attempts.length);
    onProgress?.((i + 1) / attempts.length);
  });
  return trials;

  function run(
    kind: TrialKind,
    target: Wish,
    conditions: SolveOptions,
    joined: Trial['joined'] = null,
  ): (share: number, whole: number) => void {
    return (share, whole) => {
      const found = solvePicture(target, {
        ...conditions,
        steps,
        seamless,
        onProgress: (part) => onProgress?.(share + part * whole),
      });
      // No board under these conditions, or none in so many steps: there is nothing to show.
      if (!found.ok) return;
      const newRows = found.board.piece.leadInRows ?? 0;
      const leadInRows = (board.piece.leadInRows ?? 0) + newRows;
      const { pattern } = found.board;
      if (trials.some((trial) => isSamePattern(trial.board.pattern, pattern))) return;
      const piece = newRows === 0 ? board.piece : { ...board.piece, leadInRows };
      const { wrongCells, proven } = found;
      trials.push({ kind, board: { ...board, pattern, piece }, newRows, wrongCells, proven, joined });
      onTrial?.([...trials]);
    };
  }

  function runWider(share: number, whole: number): void {
    const { strings, start, rows } = wish;
    const wider = fitWish(wish, { strings: strings + MORE_STRINGS, start, rows: rows.length });
    run('wider', wider, { order: 'nested' })(share, whole);
  }

  function runJoined(share: number, whole: number): void {
    const [kept, given] = nearestPair(wish, wanted);
    const rows = wish.rows.map((row) => row.map((cell) => (cell === given ? kept : cell)));
    const joined = [wish.palette[kept]!.id, wish.palette[given]!.id] as const;
    run('joined', { ...wish, rows }, { order: 'nested' }, joined)(share, whole);
  }
}

/** Indices of the colours that are wanted somewhere, ascending. */
function wantedColours({ rows }: Wish): readonly number[] {
  return [...new Set(rows.flat())].filter((cell) => cell !== OPEN).sort((a, b) => a - b);
}

/** The two wanted colours that differ least, the one wanted more often first. */
function nearestPair({ palette, rows }: Wish, wanted: readonly number[]): readonly [number, number] {
  const labs = palette.map(({ hex }) => labInEachSight(hex));
  let best: readonly [number, number] = [wanted[0]!, wanted[1]!];
  let least = Infinity;
  for (const a of wanted)
    for (const b of wanted) {
      const difference = a < b ? differences(labs[a]!, labs[b]!).normal : Infinity;
      if (difference >= least) continue;
      least = difference;
      best = [a, b];
    }
  const often = (colour: number): number => rows.flat().filter((cell) => cell === colour).length;
  const [a, b] = best;
  return often(a) >= often(b) ? [a, b] : [b, a];
}

function isSamePattern(a: Pattern, b: Pattern): boolean {
  return (
    a.rows === b.rows &&
    a.start === b.start &&
    a.colours.length === b.colours.length &&
    a.colours.every((id, i) => id === b.colours[i]) &&
    a.knots.every((knot, i) => knot === b.knots[i])
  );
}

/** @throws RangeError when a wish is not for this board */
export function assertFits({ pattern, palette }: Board, wish: Wish): void {
  const { colours, start, rows } = pattern;
  if (wish.strings !== colours.length || wish.start !== start || wish.rows.length !== rows)
    throw new RangeError(
      `a wish of ${wish.strings} strings from ${wish.start} and ${wish.rows.length} rows is not for ${colours.length} from ${start} and ${rows}`,
    );
  const known = new Set(palette.map(({ id }) => id));
  const stranger = wish.palette.find(({ id }) => !known.has(id));
  if (stranger !== undefined) throw new RangeError(`colour ${stranger.id} of the wish is not in the palette`);
}
