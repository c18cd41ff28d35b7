/** The part of a three-way comparison that is about rows, strings and knots. */
import type { Change } from './change.ts';
import type { Found } from './found.ts';
import { halfOf, isShown, type KeyedDesign } from './keyed.ts';
import { agreeInOrder } from './order.ts';

const HALVES = ['inside', 'seam'] as const;
const ENDS = ['firstHidden', 'lastHidden', 'loneString'] as const;

/** Indices of the pairs of a design. */
interface Index {
  readonly rows: ReadonlyMap<string, number>;
  readonly strings: ReadonlyMap<string, number>;
}

/**
 * Rules D131 to D134.
 * @param hasKnots whether knots are named one by one; false for who merges them as a whole, see bring-back.ts
 */
export function mergePatterns(
  base: KeyedDesign,
  ours: KeyedDesign,
  theirs: KeyedDesign,
  found: Found,
  hasKnots = true,
): void {
  const isKeyed = isComparable(base, ours) && isComparable(base, theirs) && isComparable(ours, theirs);
  if (isKeyed) mergeKeyed(base, ours, theirs, found, hasKnots);
  else if (isComparable(ours, theirs) && isSamePattern(ours, theirs)) return;
  // Where one side replaced the pattern whole, the other's pattern stands as a whole too.
  else if (isComparable(base, theirs) && isSamePattern(base, theirs)) return;
  else if (isComparable(base, ours) && isSamePattern(base, ours)) found.change({ kind: 'pattern' });
  else found.conflict('both-changed', { kind: 'pattern' });
}

/** Whether two designs have the same rows and strings, as far as both have them, in the same order. */
export function isComparable(a: KeyedDesign, b: KeyedDesign): boolean {
  return (
    a.patternId === b.patternId &&
    agreeInOrder(a.rowPairIds, b.rowPairIds) &&
    agreeInOrder(a.stringPairIds, b.stringPairIds)
  );
}

function isSamePattern(a: KeyedDesign, b: KeyedDesign): boolean {
  let isSame = true;
  const seen = { change: () => (isSame = false), conflict: () => (isSame = false) };
  mergeKeyed(a, a, b, seen);
  return isSame;
}

type Sink = Pick<Found, 'change' | 'conflict'> | { change(): void; conflict(): void };

function mergeKeyed(
  base: KeyedDesign,
  ours: KeyedDesign,
  theirs: KeyedDesign,
  found: Sink,
  hasKnots = true,
): void {
  const [b, o, t] = [base, ours, theirs].map(indexOf) as [Index, Index, Index];
  const sides = { base, ours, theirs, b, o, t };
  mergePairs(sides, 'rows', found);
  mergePairs(sides, 'strings', found);
  for (const end of ENDS)
    if (ours.ends[end] !== theirs.ends[end] && base.ends[end] !== theirs.ends[end])
      found.change({ kind: 'end', end, before: ours.ends[end], after: theirs.ends[end] });
  mergeStringColours(sides, found);
  if (hasKnots) mergeKnots(sides, found);
}

interface Sides {
  readonly base: KeyedDesign;
  readonly ours: KeyedDesign;
  readonly theirs: KeyedDesign;
  readonly b: Index;
  readonly o: Index;
  readonly t: Index;
}

function mergePairs({ base, ours, theirs, b, o, t }: Sides, what: 'rows' | 'strings', found: Sink): void {
  const list = what === 'rows' ? 'rowPairIds' : 'stringPairIds';
  let left = ours[list].length;
  for (const pair of theirs[list]) {
    if (o[what].has(pair)) continue;
    const change: Change = { kind: `${what}-added`, pair };
    if (!b[what].has(pair)) {
      found.change(change);
      left++;
    } else if (isPairChanged(base, theirs, b, t, what, pair)) found.conflict('ours-removed', change);
  }
  const removed: Change[] = [];
  for (const pair of ours[list]) {
    if (t[what].has(pair) || !b[what].has(pair)) continue;
    const change: Change = { kind: `${what}-removed`, pair };
    if (isPairChanged(base, ours, b, o, what, pair)) found.conflict('theirs-removed', change);
    else removed.push(change);
  }
  // Each took out strings that the other left, and together they would leave none.
  const isLast = what === 'strings' && removed.length === left;
  for (const change of removed)
    if (isLast) found.conflict('theirs-removed', change);
    else found.change(change);
}

/** Whether a knot or a colour of a pair that both have differs where it shows. */
function isPairChanged(
  base: KeyedDesign,
  side: KeyedDesign,
  b: Index,
  s: Index,
  what: 'rows' | 'strings',
  pair: string,
): boolean {
  const across = what === 'rows' ? side.stringPairIds : side.rowPairIds;
  const inBase = b[what].get(pair)!;
  const inSide = s[what].get(pair)!;
  if (what === 'strings')
    for (const string of [0, 1])
      if (base.ofPairs[inBase * 2 + string] !== side.ofPairs[inSide * 2 + string]) return true;
  const other = what === 'rows' ? b.strings : b.rows;
  return across.some((id, at) => {
    const was = other.get(id);
    const [i, j] = what === 'rows' ? [inSide, at] : [at, inSide];
    const byte = byteAt(side, i, j);
    const before =
      was === undefined ? 0 : what === 'rows' ? byteAt(base, inBase, was) : byteAt(base, was, inBase);
    return (
      byte !== before && HALVES.some((h) => halfOf(byte, h) !== halfOf(before, h) && isShown(side, i, j, h))
    );
  });
}

function mergeStringColours({ base, ours, theirs, b, t }: Sides, found: Sink): void {
  ours.stringPairIds.forEach((stringPair, j) => {
    const inTheirs = t.strings.get(stringPair);
    if (inTheirs === undefined) return;
    const inBase = b.strings.get(stringPair);
    for (const side of [0, 1] as const) {
      const before = ours.ofPairs[j * 2 + side]!;
      const after = theirs.ofPairs[inTheirs * 2 + side]!;
      const was = inBase === undefined ? undefined : base.ofPairs[inBase * 2 + side];
      if (before === after || was === after) continue;
      if (isBeyond(ours, j, side) && isBeyond(theirs, inTheirs, side)) continue;
      const change: Change = { kind: 'string-colour', address: { stringPair, side }, before, after };
      if (was === before) found.change(change);
      else found.conflict('both-changed', change);
    }
  });
}

/** Whether a string is the hidden one beside a lone one. */
function isBeyond(keyed: KeyedDesign, pair: number, side: 0 | 1): boolean {
  return pair * 2 + side >= keyed.board.pattern.colours.length;
}

function mergeKnots({ base, ours, theirs, b, t }: Sides, found: Sink): void {
  const columns = ours.stringPairIds.map((id) => [t.strings.get(id), b.strings.get(id)] as const);
  ours.rowPairIds.forEach((rowPair, i) => {
    const theirRow = t.rows.get(rowPair);
    if (theirRow === undefined) return;
    const baseRow = b.rows.get(rowPair);
    for (let j = 0; j < columns.length; j++) {
      const [theirColumn, baseColumn] = columns[j]!;
      if (theirColumn === undefined) continue;
      const our = byteAt(ours, i, j);
      const their = byteAt(theirs, theirRow, theirColumn);
      if (our === their) continue;
      const isInBase = baseRow !== undefined && baseColumn !== undefined;
      const was = isInBase ? byteAt(base, baseRow, baseColumn) : 0;
      for (const half of HALVES) {
        const before = halfOf(our, half);
        const after = halfOf(their, half);
        const earlier = halfOf(was, half);
        if (before === after || earlier === after) continue;
        if (!isShown(theirs, theirRow, theirColumn, half)) continue;
        const stringPair = ours.stringPairIds[j]!;
        const change: Change = { kind: 'knot', address: { rowPair, stringPair, half }, before, after };
        if (earlier === before) found.change(change);
        else found.conflict('both-changed', change);
      }
    }
  });
}

function byteAt(keyed: KeyedDesign, i: number, j: number): number {
  return keyed.knots[i * keyed.stringPairIds.length + j]!;
}

function indexOf(keyed: KeyedDesign): Index {
  return {
    rows: new Map(keyed.rowPairIds.map((id, i) => [id, i])),
    strings: new Map(keyed.stringPairIds.map((id, i) => [id, i])),
  };
}
