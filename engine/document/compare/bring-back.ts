/**
 * Another state of a design, brought back over what stands there now. As merging, but knots are taken over as a whole and not named
 * one by one: the largest board has two million of them.
 *
 * Merging, because others edit between keeping what stands on the board and bringing a version back: what they did then is in no version,
 * so where both differ the board stays. Of very many knots a new packed base is written (`packed-knots.ts`): for the largest board one
 * message of a megabyte instead of eighty, one step of undo, ids and pins as before.
 */
import { type Applied, applyChanges } from './apply.ts';
import { type Change, changeKey, neededBy } from './change.ts';
import { isShown, type KeyedDesign, shownPattern } from './keyed.ts';
import { mergeDesigns } from './merge.ts';
import { isComparable } from './merge-pattern.ts';

/** What a design becomes; `stayed` counts what was edited meanwhile and would have been overwritten. */
export type BroughtBack =
  | (Extract<Applied, { ok: true }> & { readonly stayed: number })
  | Extract<Applied, { ok: false }>;

/**
 * What `now` becomes when the state `toward` is brought back. What differs between `kept` and `now` was edited meanwhile and stays,
 * whatever `toward` says there; with kept = now the result shows what `toward` shows.
 * @param kept the state that can itself be brought back again, as somebody keeps it
 * @param isAdding false leaves out what `toward` has more: rows, strings, colours, colourways, and what needs them
 * O(kept + now + toward). Rules Y24 and Y26.
 */
export function bringBack(
  kept: KeyedDesign,
  now: KeyedDesign,
  toward: KeyedDesign,
  isAdding = true,
): BroughtBack {
  const { changes, conflicts } = mergeDesigns(kept, now, toward, false);
  const taken = isAdding ? changes : withoutAdded(changes, now, toward);
  const applied = applyChanges(now, taken, toward);
  if (!applied.ok) return applied;
  // Patterns that stand or come as a whole bring their knots.
  const isByKnot = isComparable(kept, now) && isComparable(kept, toward) && isComparable(now, toward);
  if (!isByKnot) return { ...applied, stayed: conflicts.length };
  const knots = Uint8Array.from(applied.value.knots);
  const stayed = takeKnotsInto({ kept, now, toward, next: applied.value }, knots);
  const next = { ...applied.value, knots };
  const board = { ...next.board, pattern: shownPattern(next) };
  return { ok: true, value: { ...next, board }, stayed: conflicts.length + stayed };
}

/** Changes that add nothing, nor name or wait for anything that is added. */
function withoutAdded(changes: readonly Change[], now: KeyedDesign, toward: KeyedDesign): readonly Change[] {
  const isAdded = ({ kind }: Change): boolean => kind.endsWith('-added');
  const out = new Set(changes.filter(isAdded).map(changeKey));
  let left = changes.filter((change) => !isAdded(change));
  for (let before = -1; before !== out.size; ) {
    before = out.size;
    for (const change of left)
      if (neededBy(change, changes, now, toward).some((key) => out.has(key))) out.add(changeKey(change));
    left = left.filter((change) => !out.has(changeKey(change)));
  }
  return left;
}

interface Sides {
  readonly kept: KeyedDesign;
  readonly now: KeyedDesign;
  readonly toward: KeyedDesign;
  readonly next: KeyedDesign;
}

/** Takes over the knots of pairs that both have. @returns how many were edited meanwhile, and stay */
function takeKnotsInto({ kept, now, toward, next }: Sides, knots: Uint8Array): number {
  const index = (ids: readonly string[]): ReadonlyMap<string, number> => new Map(ids.map((id, i) => [id, i]));
  const rows = [kept, now, toward].map(({ rowPairIds }) => index(rowPairIds));
  const columns = [kept, now, toward].map(({ stringPairIds }) => {
    const at = index(stringPairIds);
    return next.stringPairIds.map((id) => at.get(id) ?? -1);
  });
  const [keptColumns, nowColumns, towardColumns] = columns as [number[], number[], number[]];
  const width = next.stringPairIds.length;
  let stayed = 0;
  next.rowPairIds.forEach((rowPair, i) => {
    const [inKept = -1, inNow, inToward] = rows.map((at) => at.get(rowPair));
    if (inNow === undefined || inToward === undefined) return;
    for (let j = 0; j < width; j++) {
      const nowColumn = nowColumns[j]!;
      const towardColumn = towardColumns[j]!;
      if (nowColumn < 0 || towardColumn < 0) continue;
      const is = now.knots[inNow * now.stringPairIds.length + nowColumn]!;
      const wanted = toward.knots[inToward * toward.stringPairIds.length + towardColumn]!;
      if (is === wanted) continue;
      const keptColumn = keptColumns[j]!;
      const isInKept = inKept >= 0 && keptColumn >= 0;
      const was = isInKept ? kept.knots[inKept * kept.stringPairIds.length + keptColumn]! : 0;
      let byte = is;
      for (const half of ['inside', 'seam'] as const) {
        const mask = half === 'inside' ? 0x0f : 0xf0;
        if ((is & mask) === (wanted & mask) || (was & mask) === (wanted & mask)) continue;
        if (!isShown(toward, inToward, towardColumn, half)) continue;
        if ((was & mask) === (is & mask)) byte = (byte & ~mask) | (wanted & mask);
        else stayed++;
      }
      knots[i * width + j] = byte;
    }
  });
  return stayed;
}
