/**
 * Tying in steps of one size: which step is the maker's, which is looked at, and what On and Back do. Knows no screen.
 *
 * Looking and having tied are two things: `look` changes only what is looked at, `on` and `back` alone change what is tied.
 */
import {
  groupSteps,
  hangingAfter,
  looseKnots,
  nextStep,
  type StepGroup,
  type StepSize,
  stepKey,
  tieThrough,
  type TiedKeys,
  undoKnot,
  type WorkStep,
} from '../../engine/index.ts';

/** What On does where the maker looks. `ask`: whether all up to there is tied. */
export type OnAnswer = 'tied' | 'ask' | 'returned' | 'done';

export class Tying {
  readonly steps: readonly WorkStep[];
  readonly groups: readonly StepGroup[];
  readonly #strings: number;
  #tied: TiedKeys;
  #mine = 0;
  /** Group that is looked at; null = the maker's own. */
  #seen: number | null = null;

  constructor(steps: readonly WorkStep[], strings: number, size: StepSize, tied: TiedKeys) {
    this.steps = steps;
    this.#strings = strings;
    this.groups = groupSteps(steps, size, strings);
    this.#tied = this.#sound(tied);
    this.#settle();
  }

  get tied(): TiedKeys {
    return this.#tied;
  }

  /** Index of the first group with a knot that is not tied; the number of groups when all are. */
  get mine(): number {
    return this.#mine;
  }

  /** Index of the group that is looked at; the number of groups when that is the end. */
  get seen(): number {
    return this.#seen ?? this.#mine;
  }

  get isLooking(): boolean {
    return this.#seen !== null;
  }

  get isDone(): boolean {
    return this.#mine === this.groups.length;
  }

  /** Number of knots that are tied. */
  get tiedCount(): number {
    return this.steps.reduce((sum, step) => sum + (this.#tied.has(stepKey(step)) ? 1 : 0), 0);
  }

  /** What is left to tie of a group; of one that is tied, all of it. */
  leftOf(index: number): readonly WorkStep[] {
    const group = this.groups[index];
    if (group === undefined) return [];
    const own = this.steps.slice(group.from, group.to);
    const left = own.filter((step) => !this.#tied.has(stepKey(step)));
    return left.length === 0 ? own : left;
  }

  /** Whether the knot of a step, by its index, is there when the turn of a group comes. */
  isBefore(index: number): (step: number) => boolean {
    const group = this.groups[index];
    if (group === undefined) return () => true;
    const left = new Set(this.leftOf(index));
    const isOpen = index >= this.#mine;
    return (at) => {
      const step = this.steps[at]!;
      if (at < group.from) return true;
      return !left.has(step) && (at < group.to || (isOpen && this.#tied.has(stepKey(step))));
    };
  }

  /** The strings, by their places at the top, as they hang when the turn of a group comes. O(steps). */
  hanging(index: number): Int16Array {
    const isBefore = this.isBefore(index);
    return hangingAfter(
      this.#strings,
      this.steps.filter((_, at) => isBefore(at)),
    );
  }

  /** Looks so many groups on, or back. Rule N22. */
  look(by: number): void {
    const to = Math.max(0, Math.min(this.groups.length - 1, this.seen + by));
    this.#seen = to === this.#mine || this.groups.length === 0 ? null : to;
  }

  /** Back to the maker's own knot. */
  return(): void {
    this.#seen = null;
  }

  /** Rules N21 and N23. */
  on(): OnAnswer {
    if (this.#seen !== null && this.#seen < this.#mine) {
      this.return();
      return 'returned';
    }
    if (this.#seen !== null) return 'ask';
    const group = this.groups[this.#mine];
    if (group === undefined) return 'done';
    this.#take(new Set([...this.#tied, ...this.steps.slice(group.from, group.to).map(stepKey)]));
    return 'tied';
  }

  /** All before what is looked at is tied: the maker's knot is there now. Rule N23. */
  jump(): void {
    const group = this.groups[this.seen];
    if (group === undefined || group.from === 0) return;
    this.#take(tieThrough(this.steps, this.#tied, group.from - 1));
  }

  /** The step before the maker's is tied no more, and whatever hangs on it; while looking, back to the maker's. Rule N24. */
  back(): void {
    if (this.#seen !== null) {
      this.return();
      return;
    }
    const own = this.groups[this.#mine];
    const isBegun = own !== undefined && this.leftOf(this.#mine).length < own.to - own.from;
    const group = isBegun ? own : this.groups[this.#mine - 1];
    if (group === undefined) return;
    let tied = this.#tied;
    for (const step of this.steps.slice(group.from, group.to))
      tied = undoKnot(this.steps, tied, stepKey(step)).tied;
    this.#take(tied);
  }

  /** What was tied elsewhere meanwhile, as in another tab. */
  follow(tied: TiedKeys): void {
    this.#take(this.#sound(tied));
  }

  /** Without what cannot be tied: knots that hang on one that is not, and such as there are none of here. Rule N26. */
  #sound(tied: TiedKeys): TiedKeys {
    const loose = looseKnots(this.steps, tied);
    if (loose.length === 0) return tied;
    const sound = new Set(tied);
    for (const key of loose) sound.delete(key);
    return sound;
  }

  #take(tied: TiedKeys): void {
    this.#tied = tied;
    this.#settle();
  }

  #settle(): void {
    const next = nextStep(this.steps, this.#tied);
    const at = this.groups.findIndex(({ to }) => next < to);
    this.#mine = at < 0 ? this.groups.length : at;
    this.#seen = null;
  }
}

/**
 * Whether all of the first row is tied, and not yet all of the second.
 * @param rows indices of steps, by row
 */
export function isAfterFirstRow(
  rows: ReadonlyMap<number, readonly number[]>,
  { steps, tied }: Pick<Tying, 'steps' | 'tied'>,
): boolean {
  const [first, second] = [...rows.keys()].sort((a, b) => a - b);
  const isTied = (row: number): boolean => rows.get(row)!.every((at) => tied.has(stepKey(steps[at]!)));
  return first !== undefined && isTied(first) && (second === undefined || !isTied(second));
}
