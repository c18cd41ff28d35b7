/** Computes insertions and deletions of pairs, and which ends are hidden. */
import { type KnotCode, MAX_ROWS, MAX_STRINGS, MIN_STRINGS, NONE, rowStride } from '../pattern/index.ts';
import type { Command } from './command.ts';
import { keyOfCell, MIRRORED_KNOT } from './prepare-knots.ts';
import { leadInWrites } from './lead-in-writes.ts';
import { colourKey, knotKey, localOf, scoped, takeId } from './schema.ts';
import {
  type CommandContext,
  checkList,
  isWhole,
  type Prepared,
  refuse,
  show,
  writeSet,
} from './write-set.ts';
import { removeAll, set, type Write } from './writes.ts';

type Of<K extends Command['kind']> = Extract<Command, { kind: K }>;

/** Rows below move down; no knot changes its row pair. Rule D41. */
export function prepareInsertRows(context: CommandContext, { at, count }: Of<'insert-row-pairs'>): Prepared {
  const { rowPairIds, rows } = context.shape;
  if (!isWhole(at, 0, rowPairIds.length))
    return refuse('out-of-range', 'at', `${show(at)} is outside 0 to ${rowPairIds.length}`);
  if (!isWhole(count, 1, MAX_ROWS)) return refuse('out-of-range', 'count', `${show(count)} is not 1 or more`);
  if (rowsOf(context, rowPairIds.length + count) > MAX_ROWS)
    return refuse('limit', 'count', { be: 'most-rows', most: MAX_ROWS }, rows + 2 * count);
  const ids = newPairs(context, count);
  const leadIn = context.board.piece.leadInRows ?? 0;
  return writeSet([
    insertBefore(context.roots.rowPairs, rowPairIds, at, ids),
    ...leadInWrites(
      context,
      leadIn > firstRowOf(context, at) ? leadIn + count * 2 : leadIn,
      rowsOf(context, rowPairIds.length + count),
    ),
  ]);
}

/** The knots of deleted rows stay in the document, unseen, for an undo. Rule D42. */
export function prepareDeleteRows(
  context: CommandContext,
  { from, count }: Of<'delete-row-pairs'>,
): Prepared {
  const { rowPairIds } = context.shape;
  const fault = checkSpan(rowPairIds.length, from, count);
  if (fault !== null) return fault;
  const gone = new Set(rowPairIds.slice(from, from + count));
  const leadIn = context.board.piece.leadInRows ?? 0;
  // Where the first row is hidden, the one after the pairs that go is hidden next: two rows a pair go in any case.
  const ofLeadIn = Math.min(count * 2, Math.max(0, leadIn - firstRowOf(context, from)));
  return writeSet([
    ...removeAll(context.roots.rowPairs, gone),
    ...leadInWrites(context, leadIn - ofLeadIn, rowsOf(context, rowPairIds.length - count)),
  ]);
}

/** Strings to the right move right; a knot on the seam stays with the pair to its left. Rules D43 and D44. */
export function prepareInsertStrings(context: CommandContext, command: Of<'insert-string-pairs'>): Prepared {
  const { at, count, colours } = command;
  const { stringPairIds, strings } = context.shape;
  const pairs = stringPairIds.length;
  const isMirrored = command.mirrored === true;
  if (!isWhole(at, 0, pairs)) return refuse('out-of-range', 'at', `${show(at)} is outside 0 to ${pairs}`);
  if (!isWhole(count, 1, MAX_STRINGS))
    return refuse('out-of-range', 'count', `${show(count)} is not 1 or more`);
  if (isMirrored && strings % 2 === 1)
    return refuse('no-mirror', 'mirrored', `${strings} strings have no mirrored pairs`);
  const isTwice = isMirrored && at * 2 !== pairs;
  const further = 2 * count * (isTwice ? 2 : 1);
  if (pairs * 2 + further > MAX_STRINGS)
    return refuse('limit', 'count', { be: 'most-strings', most: MAX_STRINGS }, strings + further);
  if (colours !== undefined) {
    const fault = checkList('colours', colours);
    if (fault !== null) return fault;
    if (colours.length !== count * 2)
      return refuse(
        'wrong-count',
        'colours',
        `${count} pairs have ${count * 2} colours, not ${colours.length}`,
      );
    const unknown = colours.findIndex((id) => !isKnown(context, id));
    if (unknown >= 0)
      return refuse('unknown-colour', `colours[${unknown}]`, `the palette has no ${show(colours[unknown])}`);
  }
  const isMiddle = isMirrored && !isTwice;
  const beside = colours ?? coloursBeside(context, at, count);
  const given =
    isMiddle && colours === undefined
      ? beside.map((_, i) => beside[Math.min(i, count * 2 - 1 - i)]!)
      : beside;
  const writes: Write[] = [];
  // The right one first: it does not move the place of the left one.
  const sites = isTwice ? [Math.max(at, pairs - at), Math.min(at, pairs - at)] : [at];
  for (const site of sites) {
    const ids = newPairs(context, count);
    const own = site === at ? given : [...given].reverse();
    const isRight = isTwice && site * 2 > pairs;
    writes.push(insertBefore(context.roots.stringPairs, stringPairIds, site, ids));
    ids.forEach((id, i) => {
      for (const side of [0, 1] as const)
        writes.push(set(context.roots.colours, colourKey(id, side), own[i * 2 + side]!));
    });
    // Seams belong to the pair on their left. In a mirror that is the pair on their right, so the seam where the right
    // pairs go in moves to their outer side, and one on the middle line is tied on both sides of the new pairs.
    if (isMirrored && site > 0 && site < pairs && (isRight || isMiddle))
      writes.push(...seamWrites(context, site - 1, ids[count - 1]!, isTwice));
  }
  return writeSet(writes);
}

function seamWrites(context: CommandContext, k: number, to: string, isMoved: boolean): Write[] {
  const { rowPairIds, start, rows, strings } = context.shape;
  const { knots } = context.board.pattern;
  const local = localOf(context.scope.pattern, to)!;
  const writes: Write[] = [];
  for (let row = 1 - start; row < rows; row += 2) {
    const knot = knots[row * rowStride(strings) + k] as KnotCode;
    if (knot === NONE) continue;
    const key = knotKey(rowPairIds[(row + start) >> 1]!, local, 'seam');
    writes.push(set(context.roots.knots, key, isMoved ? knot : MIRRORED_KNOT[knot]));
    if (isMoved) writes.push(set(context.roots.knots, keyOfCell(context, row, k), NONE));
  }
  return writes;
}

/** At least one pair stays, two beside a lone string. Rule D45. */
export function prepareDeleteStrings(
  context: CommandContext,
  { from, count }: Of<'delete-string-pairs'>,
): Prepared {
  const { stringPairIds, loneString } = context.shape;
  const fault = checkSpan(stringPairIds.length, from, count);
  if (fault !== null) return fault;
  if ((stringPairIds.length - count) * 2 - (loneString ? 1 : 0) < MIN_STRINGS)
    return refuse('last-pair', 'count', `a pattern has at least ${MIN_STRINGS} strings`);
  return writeSet(removeAll(context.roots.stringPairs, new Set(stringPairIds.slice(from, from + count))));
}

/** Hides or shows the first row, the last row, the right string. Nothing moves. Rule D46. */
export function prepareSetEnds(context: CommandContext, command: Of<'set-ends'>): Prepared {
  const { shape, roots, scope } = context;
  const flags = ['firstHidden', 'lastHidden', 'loneString'] as const;
  for (const flag of flags)
    if (command[flag] !== undefined && typeof command[flag] !== 'boolean')
      return refuse('wrong-type', flag, 'must be true or false');
  const next = Object.fromEntries(flags.map((flag) => [flag, command[flag] ?? shape[flag]]));
  const hidden = (next.firstHidden ? 1 : 0) + (next.lastHidden ? 1 : 0);
  const rows = Math.max(0, shape.rowPairIds.length * 2 - hidden);
  if (rows > MAX_ROWS) return refuse('limit', '', { be: 'most-rows', most: MAX_ROWS }, rows);
  if (next.loneString && shape.stringPairIds.length < 2)
    return refuse('last-pair', 'loneString', `a pattern has at least ${MIN_STRINGS} strings`);
  const writes = flags
    .filter((flag) => next[flag] !== shape[flag])
    .map((flag) => set(roots.meta, scoped(scope.pattern, flag), next[flag]));
  const leadIn = context.board.piece.leadInRows ?? 0;
  const shift = leadIn === 0 ? 0 : (shape.firstHidden ? 1 : 0) - (next.firstHidden ? 1 : 0);
  return writeSet([...writes, ...leadInWrites(context, leadIn + shift, rows)]);
}

/** The first shown row of a pair of rows, and of those that go in before it. */
function firstRowOf({ shape }: CommandContext, pair: number): number {
  return Math.max(0, pair * 2 - (shape.firstHidden ? 1 : 0));
}

function rowsOf({ shape }: CommandContext, pairs: number): number {
  return Math.max(0, pairs * 2 - (shape.firstHidden ? 1 : 0) - (shape.lastHidden ? 1 : 0));
}

function checkSpan(pairs: number, from: number, count: number): ReturnType<typeof refuse> | null {
  if (!isWhole(from, 0, pairs - 1))
    return refuse('out-of-range', 'from', `${show(from)} is outside 0 to ${pairs - 1}`);
  if (!isWhole(count, 1, pairs - from))
    return refuse('out-of-range', 'count', `${show(count)} is outside 1 to ${pairs - from}`);
  return null;
}

function newPairs(context: CommandContext, count: number): string[] {
  return Array.from({ length: count }, () => scoped(context.scope.pattern, takeId(context.newId)));
}

/** Inserts ids in front of the shown pair `at`, or behind the last. */
function insertBefore(
  list: CommandContext['roots']['rowPairs'],
  shown: readonly string[],
  at: number,
  ids: readonly string[],
): Write {
  // A list also holds pairs of other patterns, and pairs twice: the first place is the one that is read.
  const entries = list.toArray();
  // The stand-in pair is no entry yet; it is appended before this write.
  if (shown.length > 0 && !entries.includes(shown[0])) entries.push(shown[0]);
  const index = at < shown.length ? entries.indexOf(shown[at]) : entries.indexOf(shown.at(-1)) + 1;
  return { do: 'insert', list, at: shown.length === 0 ? entries.length : index, ids };
}

/** Whether the palette has the colour. */
export function isKnown(context: CommandContext, id: unknown): boolean {
  return context.colours.palette.some((colour) => colour.id === id);
}

function coloursBeside({ colours }: CommandContext, at: number, count: number): string[] {
  const pair = Math.max(0, at - 1);
  const two = colours.ofPairs.slice(pair * 2, pair * 2 + 2);
  return Array.from({ length: count }, () => two).flat();
}
