/**
 * One text changed by two who began from the same one. What either wrote is in the result, what either deleted is not, and words stay whole:
 * where both changed one word, both words stand there. Rules D340 to D343.
 *
 * A text is taken as words, blanks and signs (`Intl.Segmenter`, so languages without blanks have words too). Each side is compared with the
 * base by `diff`; then the base is walked once, and at each place stands what either side put there.
 */
import { diffArrays } from 'diff';

/** How two changes are put together. */
interface MergeOptions {
  /** Whether lines may be begun: two who each wrote a whole line get a line each. */
  readonly isMultiline?: boolean;
  /** What stands where both changed the same words; default both. */
  readonly clash?: 'both' | 'mine';
}

/** Which neighbour a place between two words goes with; `word`: with the word it touches, as a caret does. */
type Lean = 'word' | 'left' | 'right';

/** What two changes of a text come to, and where the places of the one are in it. */
interface MergedText {
  readonly text: string;
  /** Where a place in `mine` is in the merged text, in UTF-16 units. */
  move(at: number, lean?: Lean): number;
}

/** Texts that differ in more words and blanks than this are taken as wholly other: comparing them costs the square of it. */
const MOST_DIFFERENCES = 600;

const segmenter = new Intl.Segmenter('en', { granularity: 'word' });
const WORD = /[\p{L}\p{N}]/u;
const BLANK = /^[^\S\n]+$/;

function wordsOf(text: string): readonly string[] {
  return Array.from(segmenter.segment(text), ({ segment }) => segment);
}

/** Tokens `from` to `to` of the base, and what stands in their place: tokens `start` to `end` of the other. */
interface Hunk {
  readonly from: number;
  readonly to: number;
  readonly start: number;
  readonly end: number;
}

function hunksOf(base: readonly string[], other: readonly string[]): readonly Hunk[] {
  const parts = diffArrays([...base], [...other], { maxEditLength: MOST_DIFFERENCES });
  if (parts === undefined) return [wholeHunk(base, other)];
  const hunks: Hunk[] = [];
  let [from, start] = [0, 0];
  let open: { from: number; start: number } | null = null;
  const close = (): void => {
    if (open !== null) hunks.push({ ...open, to: from, end: start });
    open = null;
  };
  for (const { added, removed, count } of parts) {
    if (!added && !removed) close();
    else open ??= { from, start };
    if (!added) from += count;
    if (!removed) start += count;
  }
  close();
  return joinOverBlanks(base, hunks);
}

/** Of two words that are others, the blank between them has stayed by chance: they are one change. */
function joinOverBlanks(base: readonly string[], hunks: readonly Hunk[]): readonly Hunk[] {
  const isOther = ({ from, to, start, end }: Hunk): boolean => from < to && start < end;
  const joined: Hunk[] = [];
  for (const hunk of hunks) {
    const last = joined.at(-1);
    if (
      last !== undefined &&
      isOther(last) &&
      isOther(hunk) &&
      base.slice(last.to, hunk.from).every((token) => BLANK.test(token))
    )
      joined[joined.length - 1] = { ...last, to: hunk.to, end: hunk.end };
    else joined.push(hunk);
  }
  return joined;
}

/** All between what both begin with and what both end with. */
function wholeHunk(base: readonly string[], other: readonly string[]): Hunk {
  const most = Math.min(base.length, other.length);
  let from = 0;
  while (from < most && base[from] === other[from]) from++;
  let tail = 0;
  while (tail < most - from && base[base.length - 1 - tail] === other[other.length - 1 - tail]) tail++;
  return { from, to: base.length - tail, start: from, end: other.length - tail };
}

/** One side of a merge, asked place by place. */
class Side {
  readonly tokens: readonly string[];
  readonly #at = new Map<number, Hunk>();
  /** Index of each token of the base among this side's; -1 = deleted here. */
  readonly #kept: readonly number[];

  constructor(base: readonly string[], text: string) {
    this.tokens = wordsOf(text);
    const kept: number[] = [];
    let next = 0;
    for (const hunk of hunksOf(base, this.tokens)) {
      this.#at.set(hunk.from, hunk);
      while (kept.length < hunk.from) kept.push(next++);
      while (kept.length < hunk.to) kept.push(-1);
      next = hunk.end;
    }
    while (kept.length < base.length) kept.push(next++);
    this.#kept = kept;
  }

  /** What was put before this token of the base; null = nothing. */
  hunkAt(at: number): Hunk | null {
    return this.#at.get(at) ?? null;
  }

  indexOf(at: number): number {
    return this.#kept[at]!;
  }

  said(hunk: Hunk): string {
    return this.tokens.slice(hunk.start, hunk.end).join('');
  }

  /** Whether any of the tokens that a hunk of the other side takes away is gone here too. */
  hasTaken({ from, to }: Hunk): boolean {
    return this.#kept.slice(from, to).includes(-1);
  }
}

/** What the merged text is written to: the text so far, and where its last token comes from. */
class Merging {
  text = '';
  readonly #mine: Side;
  readonly #theirs: Side;
  #last: readonly [mine: number, theirs: number] = [-1, -1];
  /** Where each token of mine is now, and whether it is there. */
  readonly places: { at: number; isThere: boolean }[] = [];

  constructor(mine: Side, theirs: Side) {
    this.#mine = mine;
    this.#theirs = theirs;
  }

  /** @param gap what keeps two words apart that never stood beside each other */
  put(mine: number, theirs: number, gap: string): void {
    const token = (mine >= 0 ? this.#mine : this.#theirs).tokens[mine >= 0 ? mine : theirs]!;
    const [lastMine, lastTheirs] = this.#last;
    const wereBeside = (mine > 0 && lastMine === mine - 1) || (theirs > 0 && lastTheirs === theirs - 1);
    const isOtherSide = mine < 0 ? lastTheirs < 0 : theirs < 0 && lastMine < 0;
    if (!wereBeside && this.text !== '' && runInto(this.text, token, isOtherSide)) this.text += gap;
    if (mine >= 0) this.places[mine] = { at: this.text.length, isThere: true };
    this.text += token;
    this.#last = [mine, theirs];
  }

  /** A token of mine that the other side deleted. */
  lose(mine: number): void {
    this.places[mine] = { at: this.text.length, isThere: false };
  }
}

/** Whether the last word of a text and the next would be read as one; of two people's words also whether no blank is between them. */
function runInto(text: string, next: string, isOtherSide: boolean): boolean {
  if (!WORD.test(next)) return false;
  if (isOtherSide) return !/\s$/.test(text);
  const [last] = wordsOf(text.slice(-40)).slice(-1);
  return last !== undefined && WORD.test(last) && wordsOf(last + next).length === 1;
}

/**
 * What `mine` and `theirs` make of `base` together. At one place mine stands first; the same put there by both stands once.
 * O(length), and the square of {@link MOST_DIFFERENCES} at most.
 */
export function mergeTexts(
  base: string,
  mine: string,
  theirs: string,
  { isMultiline = false, clash = 'both' }: MergeOptions = {},
): MergedText {
  if (mine === theirs) return { text: mine, move: (at) => at };
  const tokens = wordsOf(base);
  const [one, other] = [new Side(tokens, mine), new Side(tokens, theirs)];
  const merging = new Merging(one, other);
  for (let at = 0; at <= tokens.length; at++) {
    const [ours, others] = [one.hunkAt(at), other.hunkAt(at)];
    putBoth(merging, at, ours, others);
    if (at === tokens.length) break;
    const [left, right] = [one.indexOf(at), other.indexOf(at)];
    if (left >= 0 && right >= 0) merging.put(left, right, ' ');
    else if (left >= 0) merging.lose(left);
  }
  return { text: merging.text, move: mover(one.tokens, merging.places) };

  function putBoth(into: Merging, at: number, ours: Hunk | null, others: Hunk | null): void {
    const isLine =
      isMultiline &&
      (at === 0 || tokens[at - 1] === '\n') &&
      [ours, others].every((hunk) => {
        const next = tokens[hunk?.to ?? at];
        return next === undefined || next === '\n';
      });
    const gap = isLine ? '\n' : ' ';
    const isSame =
      ours !== null && others !== null && ours.to === others.to && one.said(ours) === other.said(others);
    const putOurs = (hunk: Hunk): void => {
      for (let i = hunk.start; i < hunk.end; i++)
        into.put(i, isSame ? others!.start + i - hunk.start : -1, gap);
    };
    const putOthers = (hunk: Hunk): void => {
      if (isSame || (clash === 'mine' && hunk.to > hunk.from && one.hasTaken(hunk))) return;
      for (let i = hunk.start; i < hunk.end; i++) into.put(-1, i, gap);
    };
    // What takes the place of words stands where they stood, behind what is only put in before them.
    const isIn = (hunk: Hunk | null): boolean => hunk !== null && hunk.to === hunk.from;
    if (ours !== null && others !== null && isIn(others) && !isIn(ours)) {
      putOthers(others);
      putOurs(ours);
      return;
    }
    if (ours !== null) putOurs(ours);
    if (others !== null) putOthers(others);
  }
}

function mover(
  tokens: readonly string[],
  places: readonly { readonly at: number; readonly isThere: boolean }[],
): MergedText['move'] {
  return (at, lean = 'word') => {
    let start = 0;
    let index = 0;
    for (; index < tokens.length && start + tokens[index]!.length <= at; index++)
      start += tokens[index]!.length;
    const place = places[index];
    if (start < at && place !== undefined) return place.isThere ? place.at + at - start : place.at;
    const [left, right] = [tokens[index - 1], tokens[index]];
    const before = index === 0 ? undefined : places[index - 1];
    const isRight =
      lean === 'right' ||
      (lean === 'word' &&
        right !== undefined &&
        WORD.test(right) &&
        (left === undefined || !WORD.test(left)));
    const ends = [
      before === undefined
        ? null
        : { at: before.at + (before.isThere ? left!.length : 0), is: before.isThere },
      place === undefined ? null : { at: place.at, is: place.isThere },
    ];
    if (isRight) ends.reverse();
    return (ends.find((end) => end?.is) ?? ends.find((end) => end !== null))?.at ?? 0;
  };
}
