/** What the page asks of the worker, and what the worker tells. */
import type {
  AsItStays,
  Block,
  Board,
  CutList,
  FieldRangeError,
  Half,
  KnotToken,
  MendedPiece,
  MountPlan,
  NearSymmetry,
  Pattern,
  Recolouring,
  ShoppingList,
  Symmetry,
  Tally,
  TiedKeys,
  Trial,
  WaysOut,
  Wish,
  WishMend,
  WorkMethod,
  WorkOrderError,
} from '../../engine/index.ts';
import type { Started, StartAsk } from './run-start.ts';
import type { StepTable } from './step-table.ts';

export interface WorkOrderJob {
  readonly kind: 'work-order';
  readonly board: Board;
  readonly method: WorkMethod;
  readonly covers: 'pattern' | 'piece';
  readonly rowsFirst: number;
  readonly firstHalf: Half;
}

/** A field of the board out of range; the page says it. */
export type OutOfRange = Pick<FieldRangeError, 'kind' | 'path' | 'demand' | 'value'>;

export type WorkOrderAnswer =
  | { readonly ok: true; readonly value: StepTable }
  | { readonly ok: false; readonly error: WorkOrderError | OutOfRange };

/** Which places each folded string serves, where that takes a search. */
interface PlanJob {
  readonly kind: 'plan';
  readonly colours: readonly string[];
  readonly singles: 'forced' | 'free';
}

/** Other ways to mount a board whose order crosses. */
export interface WaysOutJob {
  readonly kind: 'ways-out';
  readonly pattern: Pattern;
  /** Colours that recolouring may use. */
  readonly palette: readonly string[];
}

/** As few strings as possible to recolour, however long the proof takes. */
export interface RecolourJob {
  readonly kind: 'recolour';
  readonly colours: readonly string[];
  readonly palette: readonly string[];
  readonly singles: 'forced' | 'kept';
}

/** What the board and its endless band keep and nearly keep. */
export interface SymmetriesJob {
  readonly kind: 'symmetries';
  readonly pattern: Pattern;
}

interface SymmetriesAnswer {
  readonly found: Symmetry;
  readonly near: readonly NearSymmetry[];
}

/** What boards come to, beside each other. */
export interface ConsequencesJob {
  readonly kind: 'consequences';
  readonly boards: readonly Board[];
}

/** Beginnings, with what they come to. */
export interface StartJob {
  readonly kind: 'start';
  readonly ask: StartAsk;
}

/** What one board comes to at the table. */
export interface Consequences {
  readonly plan: Pick<MountPlan, 'neat' | 'crossings' | 'singles'>;
  /** Null where a field of the board is out of range. */
  readonly cut: CutList | null;
  /** What one piece takes and costs; null as `cut`. */
  readonly one: ShoppingList | null;
  readonly symmetry: Pick<Symmetry, 'mirror' | 'band'>;
}

/** Kinds of the knots of a piece that are not tied yet, so that it comes back to its picture. */
export interface MendJob {
  readonly kind: 'mend';
  readonly board: Board;
  /** Of what is tied otherwise than on the board, the mistake among them; of what is not, what is tried first. */
  readonly kinds: ReadonlyMap<string, KnotToken>;
  readonly tied: TiedKeys;
}

export interface MendAnswer extends MendedPiece {
  /** What of the whole piece then differs from the board. */
  readonly comes: AsItStays;
}

/** Boards that show what is wished for. */
export interface WishJob {
  readonly kind: 'wish';
  readonly board: Board;
  /** Of the board's size, in colours of its palette. */
  readonly wish: Wish;
  readonly seamless: boolean;
  /** Where alone something is to show otherwise; all else stays as it is. Null = a board for the whole wish. */
  readonly part: Block | null;
}

/** One of them, with what it comes to; null where a field of the board is out of range. */
export interface WishAnswer extends Omit<Trial, 'kind'> {
  readonly kind: Trial['kind'] | WishMend['reach'];
  /** Of a part that is mended, how many knots change, and whether fewer would not do. */
  readonly changed: { readonly count: number; readonly isFewest: boolean } | null;
  readonly tally: Tally | null;
}

/** Every kind of job with its answer. */
export interface JobAnswers {
  'work-order': WorkOrderAnswer;
  plan: MountPlan;
  recolour: Recolouring;
  'ways-out': WaysOut;
  symmetries: SymmetriesAnswer;
  consequences: readonly Consequences[];
  mend: MendAnswer;
  start: readonly Started[];
  wish: readonly WishAnswer[];
}

export type Job =
  | WorkOrderJob
  | PlanJob
  | RecolourJob
  | WaysOutJob
  | SymmetriesJob
  | ConsequencesJob
  | MendJob
  | StartJob
  | WishJob;

/** `share` done, 0 to 1, and the best answer so far; at the end the answer, or the error that the engine threw. */
export type WorkerMessage =
  | { readonly kind: 'progress'; readonly share: number }
  | { readonly kind: 'best'; readonly answer: JobAnswers[keyof JobAnswers] }
  | { readonly kind: 'answer'; readonly answer: JobAnswers[keyof JobAnswers] }
  | { readonly kind: 'thrown'; readonly message: string };
