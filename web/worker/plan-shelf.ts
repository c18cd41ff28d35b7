/**
 * How orders mount, for all of the page: at once where that takes few steps, else from the worker, one order after the other.
 *
 * Whoever shows a plan keeps a watch. What no watch asks for any more, as after an edit, is not worked out further; what was worked out is
 * kept for when it is asked for again. So a plan may be unknown for a while, and whoever shows one says so; what is computed from one takes
 * it as an argument (`cutListOf`, `shoppingList`, `markColourways`), and the search is not in the page.
 */
import { type Board, isHung, type MountPlan, NOTHING_MOUNTED, planAtOnce } from '../../engine/index.ts';
import { JobError, type RunningJob, startJob } from './start-job.ts';

/** What is known of a plan. */
export type PlanState =
  | { readonly kind: 'found'; readonly plan: MountPlan }
  /** `share` done, 0 to 1. */
  | { readonly kind: 'looking'; readonly share: number }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly why: JobError['kind'] };

/** Why there is no plan yet. */
export type PendingPlan = Exclude<PlanState, { readonly kind: 'found' }>;

/** What decides how a board mounts. */
export type Mounted = Pick<Board, 'pattern' | 'piece'>;

export type StateOf = (board: Mounted) => PlanState;

/** A plan as it is to be shown. */
type Turn = (plan: MountPlan, colours: readonly string[]) => MountPlan;

type Start = (board: Mounted, onProgress: (share: number) => void) => RunningJob<MountPlan>;

/** An edit is waited out before a search begins. */
const WAIT_MS = 120;
/** Plans kept that nobody asks for. */
const MOST_KEPT = 200;

export class PlanShelf {
  readonly #start: Start;
  readonly #states = new Map<string, PlanState>();
  readonly #boards = new Map<string, Mounted>();
  readonly #watches = new Set<PlanWatch>();
  #running: { readonly key: string; readonly job: RunningJob<MountPlan> } | null = null;
  #wait: ReturnType<typeof setTimeout> | undefined;
  #turn: Turn | null = null;
  /** By the plan as it was found. */
  #turned = new WeakMap<MountPlan, PlanState>();
  /** Whether something was asked for since the wait began. */
  #isNew = false;

  /** @param start begins to work a plan out */
  constructor(
    start: Start = ({ pattern: { colours }, piece: { singles } }, onProgress) =>
      startJob({ kind: 'plan', colours, singles: singles ?? 'forced' }, onProgress),
  ) {
    this.#start = start;
  }

  /** @param onNews called when what is known of a plan asked for has changed */
  watch(onNews: () => void): PlanWatch {
    const watch: PlanWatch = new PlanWatch({
      stateOf: (board, keys) => this.#stateOf(board, keys),
      onAsked: () => {
        this.#watches.add(watch);
        this.#update(WAIT_MS);
      },
      onEnd: () => {
        this.#watches.delete(watch);
        this.#update(WAIT_MS);
      },
      onNews,
    });
    return watch;
  }

  /** Lets every plan be shown turned so; null = as it was found. */
  turnBy(turn: Turn | null): void {
    if (turn === this.#turn) return;
    this.#turn = turn;
    this.#turned = new WeakMap();
    this.#tell();
  }

  /** Ends what is under way. */
  stop(): void {
    for (const [key, { kind }] of this.#states)
      if (kind === 'looking') this.#states.set(key, { kind: 'stopped' });
    this.#update(0);
    this.#tell();
  }

  /** Begins anew what was stopped or failed. */
  again(): void {
    for (const [key, { kind }] of this.#states)
      if (kind === 'stopped' || kind === 'failed') this.#states.delete(key);
    this.#tell();
  }

  /**
   * The plan of a board.
   * @throws RangeError when it is not known
   */
  foundOf(board: Mounted): MountPlan {
    const state = this.#stateOf(board, new Set());
    if (state.kind !== 'found') throw new RangeError('the plan of this board is not known');
    return state.plan;
  }

  #stateOf(board: Mounted, keys: Set<string>): PlanState {
    const { colours } = board.pattern;
    const singles = isHung(board.piece) ? (board.piece.singles ?? 'forced') : '';
    const key = JSON.stringify([singles, ...colours]);
    keys.add(key);
    let state = this.#states.get(key);
    if (state === undefined) {
      const plan = singles === '' ? NOTHING_MOUNTED : planAtOnce(colours, { singles });
      state = plan === null ? { kind: 'looking', share: 0 } : { kind: 'found', plan };
      this.#states.set(key, state);
      this.#boards.set(key, board);
      this.#isNew ||= plan === null;
    }
    return this.#turn === null || state.kind !== 'found'
      ? state
      : this.#shown(this.#turn, state.plan, colours);
  }

  #shown(turn: Turn, plan: MountPlan, colours: readonly string[]): PlanState {
    const shown = this.#turned.get(plan) ?? { kind: 'found', plan: turn(plan, colours) };
    this.#turned.set(plan, shown);
    return shown;
  }

  /** Works out what is asked for, and nothing else. */
  #update(waitMs: number): void {
    const asked = new Set([...this.#watches].flatMap(({ keys }) => [...keys]));
    for (const [key, { kind }] of this.#states) {
      if (asked.has(key)) continue;
      if (kind === 'looking' || this.#states.size > MOST_KEPT) {
        this.#states.delete(key);
        this.#boards.delete(key);
      }
    }
    const running = this.#running;
    if (running !== null && this.#states.get(running.key)?.kind !== 'looking') {
      running.job.cancel();
      this.#running = null;
    }
    // Only what is newly asked for is an edit to wait out.
    if (this.#running !== null || (waitMs > 0 && !this.#isNew && this.#wait !== undefined)) return;
    this.#isNew = false;
    clearTimeout(this.#wait);
    this.#wait = setTimeout(() => this.#begin(), waitMs);
  }

  #begin(): void {
    this.#wait = undefined;
    const [next] = [...this.#states].find(([, { kind }]) => kind === 'looking') ?? [];
    if (next === undefined || this.#running !== null) return;
    const board = this.#boards.get(next)!;
    const isLatest = (): boolean => this.#running?.job === job;
    const settle = (state: PlanState): void => {
      if (!isLatest()) return;
      this.#states.set(next, state);
      if (state.kind !== 'looking') {
        this.#running = null;
        this.#update(0);
      }
      this.#tell(next);
    };
    const job = this.#start(board, (share) => settle({ kind: 'looking', share }));
    this.#running = { key: next, job };
    job.answer.then(
      (plan) => settle({ kind: 'found', plan }),
      (error: unknown) => {
        if (!(error instanceof JobError)) throw error;
        settle({ kind: 'failed', why: error.kind });
      },
    );
  }

  #tell(key?: string): void {
    for (const watch of [...this.#watches]) if (key === undefined || watch.keys.has(key)) watch.onNews();
  }
}

interface WatchOptions {
  readonly stateOf: (board: Mounted, keys: Set<string>) => PlanState;
  readonly onAsked: () => void;
  readonly onEnd: () => void;
  readonly onNews: () => void;
}

/** What one part of the page wants to know. */
export class PlanWatch {
  readonly #options: WatchOptions;
  /** Orders asked for last. */
  keys: ReadonlySet<string> = new Set();

  constructor(options: WatchOptions) {
    this.#options = options;
  }

  /** Asks for the plans that `look` asks for, in place of those asked for before. */
  read<T>(look: (stateOf: StateOf) => T): T {
    const keys = new Set<string>();
    const result = look((board) => this.#options.stateOf(board, keys));
    this.keys = keys;
    this.#options.onAsked();
    return result;
  }

  end(): void {
    this.#options.onEnd();
  }

  onNews(): void {
    this.#options.onNews();
  }
}

/** The plan, null while it is not known. */
export function planIn(state: PlanState): MountPlan | null {
  return state.kind === 'found' ? state.plan : null;
}

/** The page's shelf. */
export const planShelf = new PlanShelf();
