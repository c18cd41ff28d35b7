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
  /** Index of the first step that is not tied. */
  #next = 0;
  #mine = 0;
  /** How the strings hang after the first so many steps: the next question is mostly about a few more. */
  #known: { readonly after: number; readonly order?: Int16Array } = { after: 0 };
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

  /** Number of knots that are tied: no others than those of the steps are kept. */
  get tiedCount(): number {
    return this.#tied.size;
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

  /**
   * The strings, by their places at the top, as they hang when the turn of a group comes. O(steps between this group and the one asked for
   * before), where nothing is tied behind the first knot that is not; else O(steps).
   */
  hanging(index: number): Int16Array {
    const after = this.groups[index]?.from ?? this.steps.length;
    if (after < this.#known.after) this.#known = { after: 0 };
    const between = this.steps.slice(this.#known.after, after);
    const order = hangingAfter(this.#strings, between, this.#known.order);
    this.#known = { after, order };
    // Behind it something is tied only where another order went before, or where the group is begun.
    if (index < this.#mine || this.#tied.size === Math.min(this.#next, after)) return order;
    const isBefore = this.isBefore(index);
    const later = this.steps.filter((_, at) => at >= after && isBefore(at));
    return hangingAfter(this.#strings, later, order);
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
    const tied = new Set(this.#tied);
    for (let at = group.from; at < group.to; at++) tied.add(stepKey(this.steps[at]!));
    this.#take(tied, group.to);
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

  /** @param known steps that are tied for certain, from the first on */
  #take(tied: TiedKeys, known = 0): void {
    this.#tied = tied;
    this.#settle(known);
  }

  #settle(known = 0): void {
    let next = known > 0 ? known : nextStep(this.steps, this.#tied);
    while (next < this.steps.length && this.#tied.has(stepKey(this.steps[next]!))) next++;
    this.#next = next;
    const first = known > 0 ? this.#mine : 0;
    const at = this.groups.findIndex(({ to }, index) => index >= first && next < to);
    this.#mine = at < 0 ? this.groups.length : at;
    this.#seen = null;
  }
}

/** Indices of the steps of the first two rows that have some. O(rows). */
export function firstRows(rows: ReadonlyMap<number, readonly number[]>): readonly (readonly number[])[] {
  const [first, second] = [...rows.keys()].sort((a, b) => a - b);
  return [first, second].flatMap((row) => (row === undefined ? [] : [rows.get(row)!]));
}

/** Whether all of the first row is tied, and not yet all of the second. @param rows of {@link firstRows} */
export function isAfterFirstRow(
  [first, second]: readonly (readonly number[])[],
  { steps, tied }: Pick<Tying, 'steps' | 'tied'>,
): boolean {
  const isTied = (row: readonly number[]): boolean => row.every((at) => tied.has(stepKey(steps[at]!)));
  return first !== undefined && isTied(first) && (second === undefined || !isTied(second));
}
