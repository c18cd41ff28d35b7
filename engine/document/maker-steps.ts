/**
 * One maker's steps: what undo takes back and redo does again. A step is what the maker did as one thing, as edits; taking it back
 * is `takeBack` of all of it in one transaction, and what that changed is the step that redo takes back.
 *
 * Invariants: steps are this maker's own; each is on one stack, the latest last; a step under way takes further edits, no other does.
 */
import type { CommandKind } from './command.ts';
import type { Edit, KeyChange } from './journal/index.ts';
import { readKnotKey } from './schema.ts';

export type Way = 'undo' | 'redo';

/** What one undo or redo takes back. */
export interface OwnStep {
  readonly way: Way;
  /** In their order. */
  readonly edits: readonly Edit[];
}

/** Keeps steps somewhere, so that they outlive the page. A step is the same object throughout. */
export interface StepKeeper {
  added(step: OwnStep, edit: Edit): void;
  dropped(step: OwnStep): void;
}

/** Commands that come in runs: a drag over knots, a colour being chosen, a title being typed. */
const RUNS: ReadonlySet<CommandKind> = new Set<CommandKind>([
  'set-knots',
  'recolour-strings',
  'edit-colour',
  'set-title',
  'set-piece',
  'set-gauge',
  'set-thread',
  'set-part',
  'put-colourway',
]);

/** A run is no longer than this, however quickly its commands follow each other. */
const RUN_MS = 2000;
/** Steps of each way at most; the oldest go. */
const MOST_STEPS = 500;

interface Run {
  readonly kind: CommandKind;
  /** Rows of the knots that are tied; '' of other commands. */
  readonly rows: string;
  readonly begunMs: number;
  lastMs: number;
}

interface StepTimes {
  /** Commands of one kind within this many ms of each other may be one step; 0: each alone. */
  readonly captureMs: number;
  readonly now: () => number;
}

export class MakerSteps {
  readonly #times: StepTimes;
  readonly #stacks: Record<Way, OwnStep[]> = { undo: [], redo: [] };
  #keeper: StepKeeper | null = null;
  /** The step that further edits become part of. */
  #current: { readonly way: 'undo'; readonly edits: Edit[] } | null = null;
  #turned: { readonly way: Way; readonly edits: Edit[] } | null = null;
  #run: Run | null = null;
  #open = 0;
  #isFresh = true;

  constructor(times: StepTimes) {
    this.#times = times;
  }

  has(way: Way): boolean {
    return this.#stacks[way].length > 0;
  }

  /** What a command of the maker changed. */
  record(edit: Edit, kind: CommandKind): void {
    if (edit.changes.length === 0) return;
    this.#isFresh = false;
    this.#clear('redo');
    const rows = kind === 'set-knots' ? rowsOf(edit.changes) : '';
    const nowMs = this.#times.now();
    if (this.#current === null || !(this.#open > 0 || this.#goesOn(kind, rows, nowMs))) {
      this.#current = { way: 'undo', edits: [] };
      this.#run = { kind, rows, begunMs: nowMs, lastMs: nowMs };
      this.#push(this.#current);
    } else if (this.#run !== null) this.#run.lastMs = nowMs;
    this.#current.edits.push(edit);
    this.#keeper?.added(this.#current, edit);
  }

  /** What taking back a step of one way changed: a step of the other. */
  turn(edit: Edit, way: Way): void {
    if (edit.changes.length === 0) return;
    // Too many writes for one transaction come in several.
    if (this.#open === 0 || this.#turned === null) {
      this.#turned = { way, edits: [] };
      this.#push(this.#turned);
    }
    this.#turned.edits.push(edit);
    this.#keeper?.added(this.#turned, edit);
  }

  /** Takes the latest step off its stack; null when there is none. */
  take(way: Way): readonly Edit[] | null {
    this.stop();
    const step = this.#stacks[way].pop();
    if (step === undefined) return null;
    this.#keeper?.dropped(step);
    return step.edits;
  }

  /** The next edit begins a new step. */
  stop(): void {
    this.#current = null;
    this.#turned = null;
    this.#run = null;
  }

  /** All edits until the returned function is called are one step. May nest; the outermost counts. */
  open(): () => void {
    if (this.#open++ === 0) this.stop();
    let isOpen = true;
    return () => {
      if (!isOpen) return;
      isOpen = false;
      if (--this.#open === 0) this.stop();
    };
  }

  /**
   * Brings back steps of an earlier visit, the latest last, below those of this one; from now on every step is kept.
   * What could be done again then can be only while nothing else has been done.
   */
  recall(steps: readonly OwnStep[], keeper: StepKeeper): void {
    const own = [...this.#stacks.undo];
    const isWayFree = this.#isFresh && this.#stacks.redo.length === 0;
    this.#stacks.undo.unshift(...steps.filter(({ way }) => way === 'undo'));
    const redone = steps.filter(({ way }) => way === 'redo');
    if (isWayFree) this.#stacks.redo.push(...redone);
    else for (const step of redone) keeper.dropped(step);
    this.#keeper = keeper;
    for (const step of [...own, ...(isWayFree ? [] : this.#stacks.redo)])
      for (const edit of step.edits) keeper.added(step, edit);
    this.#bound('undo');
    this.#bound('redo');
  }

  /** What undo takes back and nobody keeps yet, the oldest first. */
  get unkept(): readonly Edit[] {
    return this.#keeper === null ? this.#stacks.undo.flatMap(({ edits }) => edits) : [];
  }

  /** What the steps of both ways changed, the latest first. */
  *changes(): Generator<KeyChange> {
    for (const way of ['undo', 'redo'] as const)
      for (const step of [...this.#stacks[way]].reverse())
        for (const { changes } of step.edits) yield* changes;
  }

  /** Lets go of a step that was taken back in another page of the same maker. */
  forget(step: OwnStep): void {
    const stack = this.#stacks[step.way];
    const at = stack.indexOf(step);
    if (at >= 0) stack.splice(at, 1);
  }

  /** Lets go of all of them; what is kept stays kept. */
  end(): void {
    this.#keeper = null;
    this.#stacks.undo.length = 0;
    this.#stacks.redo.length = 0;
    this.stop();
  }

  #goesOn(kind: CommandKind, rows: string, nowMs: number): boolean {
    const run = this.#run;
    return (
      run !== null &&
      run.kind === kind &&
      RUNS.has(kind) &&
      run.rows === rows &&
      nowMs - run.lastMs < this.#times.captureMs &&
      nowMs - run.begunMs < RUN_MS
    );
  }

  #push(step: OwnStep): void {
    this.#stacks[step.way].push(step);
    this.#bound(step.way);
  }

  #bound(way: Way): void {
    const stack = this.#stacks[way];
    for (const step of stack.splice(0, Math.max(0, stack.length - MOST_STEPS))) this.#keeper?.dropped(step);
  }

  #clear(way: Way): void {
    for (const step of this.#stacks[way].splice(0)) this.#keeper?.dropped(step);
  }
}

/** The rows in which knots changed, as one text. */
function rowsOf(changes: readonly KeyChange[]): string {
  const rows = new Set<string>();
  for (const { root, key } of changes) {
    const parts = root === 'knots' ? readKnotKey(key) : null;
    if (parts !== null) rows.add(`${parts.rowPair}:${parts.half}`);
  }
  return [...rows].sort().join(' ');
}
