/** Computes `apply-changes`: the writes after which a document reads as a design that was worked out beforehand. */
import type * as Y from 'yjs';
import { PIECE_FIELDS, type SupplyValue, supplyValues } from '../files/index.ts';
import type { Board } from '../pattern/index.ts';
import type { StoredBase } from './base-knots.ts';
import { checkBoard } from './check-board.ts';
import type { Command } from './command.ts';
import {
  applyChanges,
  type Change,
  type KeyedDesign,
  keyedFrom,
  longestCommon,
  readWhole,
} from './compare/index.ts';
import { type Excess, packedKnotWrites } from './packed-knots.ts';
import { ordersOf, preparePutColourway, prepareRemoveColourway } from './prepare-colourways.ts';
import { readColourways, storedColourways } from './read-colourways.ts';
import type { Shape } from './read-lists.ts';
import { RepairLog } from './repair.ts';
import { colourKey, colourwayKey, knotKey, localOf, scoped, writeScope } from './schema.ts';
import { type CommandContext, type Prepared, refuse, refuseFault, writeSet } from './write-set.ts';
import { supplyWrite } from './write-board.ts';
import { removeAll, set, type Write } from './writes.ts';

/** More knots than this come packed: keys for them could be more than the server takes in one message. */
const MOST_KEYED = 50_000;

/**
 * The command after which the design is `next`, as one edit that undoes as one.
 * @param next      of `bringBack(kept, design, toward)`, worked out against the design as it is now
 * @param mostKeyed how many knots may come one by one; for tests
 */
export function becomeCommand(next: KeyedDesign, mostKeyed = MOST_KEYED): Command {
  return {
    kind: 'apply-changes',
    changes: [],
    toward: next,
    prepare: (context) => prepareToward(context, next, mostKeyed),
  };
}

/**
 * The command that takes over changes from another state of the board, as one edit that undoes as one.
 * @param changes of `mergeDesigns(base, design, toward)`; those of a conflict where theirs was chosen included
 * @param toward  the state they come from
 */
export function applyCommand(changes: readonly Change[], toward: KeyedDesign): Command {
  return { kind: 'apply-changes', changes, toward, prepare: prepareApplyChanges };
}

/** Rules D138 to D143. */
function prepareApplyChanges(
  context: CommandContext,
  changes: readonly Change[],
  toward: KeyedDesign,
): Prepared {
  const ours = keyedFrom(context);
  const applied = applyChanges(ours, changes, toward);
  if (!applied.ok) return applied;
  return prepareToward(context, applied.value, MOST_KEYED);
}

/** The writes after which the document reads as `next`. */
function prepareToward(context: CommandContext, next: KeyedDesign, mostKeyed: number): Prepared {
  const fault = checkBoard(next.board);
  if (fault !== null) return refuseFault(fault, 'toward.');
  const ours = keyedFrom(context);
  const prepared = writesToward(context, ours, next, false, mostKeyed);
  if (prepared.ok && prepared.writes.length > 0 && (context.shape.isStandIn || context.colours.isStandIn))
    return writesToward(context, ours, next, true, mostKeyed);
  return prepared;
}

/** `isWhole`: lists too, where what stands in for an empty one is not in it yet. */
function writesToward(
  context: CommandContext,
  ours: KeyedDesign,
  next: KeyedDesign,
  isWhole: boolean,
  mostKeyed: number,
): Prepared {
  const { roots } = context;
  const palette = paletteWrites(context, ours, next, isWhole);
  const isReplaced = ours.patternId !== next.patternId;
  const isAnew = isWhole || isReplaced;
  const belongs = (entry: unknown): boolean => localOf(next.patternId, entry) !== null;
  const lists = [
    ...listWrites(roots.rowPairs, belongs, ours.rowPairIds, next.rowPairIds, isAnew),
    ...listWrites(roots.stringPairs, belongs, ours.stringPairIds, next.stringPairIds, isAnew),
  ];
  const isWide = isAnew || lists.length > 0 || palette.length > 0;
  const knots = knotWrites(context, next, mostKeyed);
  if ('demand' in knots) return refuse('limit', 'changes', knots.demand, knots.found);
  const colourways = colourwayWrites(context, ours, next);
  if (!colourways.ok) return colourways;
  const scope = writeScope({ board: context.scope.board, pattern: next.patternId });
  return writeSet(
    [
      ...(isReplaced ? [set(roots.meta, 'generation', scope)] : []),
      ...lists,
      ...endWrites(context, next),
      ...knots.writes,
      ...palette,
      ...stringWrites(context, ours, next, isWide),
      ...metaWrites(context, ours, next),
      ...colourways.writes,
    ],
    [...colourways.founding, ...knots.founding],
  );
}

/**
 * Makes a list hold the ids in this order, moving as few as can be. Entries that do not belong stay where they are.
 * @param now what is read from the list; nothing is written when that is wanted, unless `isWhole`
 */
function listWrites(
  list: Y.Array<unknown>,
  belongs: (entry: unknown) => boolean,
  now: readonly string[],
  wanted: readonly string[],
  isWhole: boolean,
): Write[] {
  if (!isWhole && now.length === wanted.length && now.every((id, i) => id === wanted[i])) return [];
  const firsts: string[] = [];
  const seen = new Set<unknown>();
  for (const entry of list.toArray())
    if (belongs(entry) && !seen.has(entry)) {
      seen.add(entry);
      firsts.push(entry as string);
    }
  const kept = longestCommon(firsts, wanted);
  const writes = removeAll(list, new Set(firsts.filter((id) => !kept.has(id))));
  // As the list will be after the removals, to find the places of the insertions.
  const entries = list.toArray().filter((entry) => !belongs(entry) || kept.has(entry as string));
  for (let i = 0; i < wanted.length; ) {
    const ids: string[] = [];
    const from = i;
    while (i < wanted.length && !kept.has(wanted[i]!)) ids.push(wanted[i++]!);
    if (ids.length > 0) {
      const next = i < wanted.length ? entries.indexOf(wanted[i]) : -1;
      const at = from > 0 ? entries.indexOf(wanted[from - 1]) + 1 : next >= 0 ? next : entries.length;
      writes.push({ do: 'insert', list, at, ids });
      entries.splice(at, 0, ...ids);
    }
    i++;
  }
  return writes;
}

function endWrites({ roots }: CommandContext, { ends, patternId }: KeyedDesign): Write[] {
  return Object.entries(ends)
    .filter(([end, value]) => (roots.meta.get(scoped(patternId, end)) === true) !== value)
    .map(([end, value]) => set(roots.meta, scoped(patternId, end), value));
}

/**
 * Knots that read otherwise; a pattern of which the document knows none comes packed, as with a load, and so do more than `mostKeyed`.
 * @returns how many they are with those of pairs that were taken out, when that is too many to be packed
 */
function knotWrites(
  { roots }: CommandContext,
  next: KeyedDesign,
  mostKeyed: number,
): { readonly founding: Write[]; readonly writes: Write[] } | Excess {
  const { rowPairIds, stringPairIds, knots, patternId } = next;
  const now = readWhole(roots.knots, patternId, shapeOf(next));
  if (!roots.knots.has(patternId) && now.every((byte) => byte === 0)) {
    const locals = (ids: readonly string[]): string[] => ids.map((id) => localOf(patternId, id)!);
    const base: StoredBase = { rows: locals(rowPairIds), strings: locals(stringPairIds), knots };
    return { founding: [set(roots.knots, patternId, base)], writes: [] };
  }
  let count = 0;
  for (let at = 0; at < knots.length; at++) {
    const differs = now[at]! ^ knots[at]!;
    if ((differs & 15) !== 0) count++;
    if (differs >> 4 !== 0) count++;
  }
  if (count > mostKeyed) {
    const packed = packedKnotWrites(roots.knots, next);
    return 'demand' in packed ? packed : { founding: [], writes: packed };
  }
  const writes: Write[] = [];
  const locals = stringPairIds.map((id) => localOf(patternId, id)!);
  for (let at = 0; at < knots.length; at++) {
    const [was, is] = [now[at]!, knots[at]!];
    if (was === is) continue;
    const row = rowPairIds[Math.floor(at / locals.length)]!;
    const local = locals[at % locals.length]!;
    if ((was & 15) !== (is & 15)) writes.push(set(roots.knots, knotKey(row, local, 'inside'), is & 15));
    if (was >> 4 !== is >> 4) writes.push(set(roots.knots, knotKey(row, local, 'seam'), is >> 4));
  }
  return { founding: [], writes };
}

function shapeOf({ rowPairIds, stringPairIds, ends, board, patternId }: KeyedDesign): Shape {
  return {
    rowPairIds,
    stringPairIds,
    ...ends,
    start: board.pattern.start,
    rows: board.pattern.rows,
    strings: board.pattern.colours.length,
    rowIndex: new Map(rowPairIds.map((id, i) => [id, i])),
    stringIndex: new Map(stringPairIds.map((id, j) => [localOf(patternId, id)!, j])),
    isStandIn: false,
  };
}

/** `isWide`: also where a value reads as wanted only because of what the palette or the list lacks now. */
function stringWrites(
  { roots }: CommandContext,
  ours: KeyedDesign,
  next: KeyedDesign,
  isWide: boolean,
): Write[] {
  return next.ofPairs.flatMap((colour, string) => {
    const key = colourKey(next.stringPairIds[string >> 1]!, (string & 1) as 0 | 1);
    const now = isWide ? roots.colours.get(key) : ours.ofPairs[string];
    return now === colour ? [] : [set(roots.colours, key, colour)];
  });
}

function paletteWrites(
  context: CommandContext,
  ours: KeyedDesign,
  next: KeyedDesign,
  isWhole: boolean,
): Write[] {
  const { roots, scope } = context;
  const { board } = scope;
  const prefix = scoped(board, '');
  const idsOf = ({ board: { palette } }: KeyedDesign): string[] => palette.map(({ id }) => scoped(board, id));
  const writes = listWrites(
    roots.paletteOrder,
    (entry) => typeof entry === 'string' && entry.startsWith(prefix),
    idsOf(ours),
    idsOf(next),
    isWhole,
  );
  const before = new Map(ours.board.palette.map((colour) => [colour.id, colour]));
  for (const { id, name, hex } of next.board.palette) {
    const present = before.get(id);
    for (const [field, value] of [
      ['name', name],
      ['hex', hex],
    ] as const) {
      const key = scoped(board, `${id}:${field}`);
      const now = present === undefined || isWhole ? roots.palette.get(key) : present[field];
      if (now !== value) writes.push(set(roots.palette, key, value));
    }
    before.delete(id);
  }
  // What replaces those that go, for strings that somebody else gives them at the same time.
  const known = new Set(next.board.palette.map(({ id }) => id));
  for (const id of before.keys()) {
    const instead = next.instead[id];
    const key = scoped(board, `${id}:instead`);
    if (instead !== undefined && known.has(instead) && roots.palette.get(key) !== instead)
      writes.push(set(roots.palette, key, instead));
  }
  return writes;
}

function metaWrites({ roots, scope }: CommandContext, ours: KeyedDesign, next: KeyedDesign): Write[] {
  const writes: Write[] = [];
  const put = (key: string, value: unknown): void => {
    writes.push(set(roots.meta, scoped(scope.board, key), value));
  };
  if (ours.board.title !== next.board.title) put('title', next.board.title);
  const { pattern, piece } = next.board;
  const isExtent = piece.repeats !== ours.board.piece.repeats || piece.lengthMm !== ours.board.piece.lengthMm;
  for (const field of Object.keys(PIECE_FIELDS) as (keyof typeof piece)[]) {
    // Of these more may be written than is read, and that must not come to light.
    const isStored =
      field === 'repeats' || field === 'lengthMm'
        ? isExtent
        : field === 'leadInRows' && pattern.rows !== ours.board.pattern.rows;
    const stored = isStored ? roots.meta.get(scoped(scope.board, `piece.${field}`)) : undefined;
    const now = (isStored ? stored : ours.board.piece[field]) ?? null;
    const wanted = piece[field] ?? null;
    if (now !== wanted) put(`piece.${field}`, wanted);
  }
  const gauges = { ...ours.board.gauge, ...next.board.gauge };
  for (const field of Object.keys(gauges) as (keyof typeof gauges)[])
    if (ours.board.gauge[field] !== next.board.gauge[field])
      put(`gauge.${field}`, next.board.gauge[field] ?? null);
  const [now, wanted] = [ours, next].map(({ board }) => supplyValues(board.supplies)) as [
    ReadonlyMap<string, SupplyValue>,
    ReadonlyMap<string, SupplyValue>,
  ];
  for (const key of new Set([...now.keys(), ...wanted.keys()]))
    if (now.get(key) !== wanted.get(key))
      writes.push(supplyWrite(roots, scope.board, key, wanted.get(key) ?? null));
  return writes;
}

/**
 * Colourways that differ, seen with the palette as it will be: a colour that comes back must not bring shades that were
 * given to it before it went.
 */
function colourwayWrites(context: CommandContext, ours: KeyedDesign, next: KeyedDesign): Prepared {
  const shown = ({ board }: KeyedDesign): string =>
    JSON.stringify([board.colourways, board.palette.map(({ id }) => id)]);
  if (shown(ours) === shown(next)) return writeSet([]);
  const { palette, colourways } = next.board;
  const present = readColourways(context.roots, context.scope, palette, new RepairLog());
  const later: CommandContext = {
    ...context,
    colours: { ...context.colours, palette },
    board: { ...context.board, palette, colourways: present },
  };
  const before = new Map(present.map((colourway) => [colourway.id, JSON.stringify(colourway)]));
  const kept = new Set(colourways.map(({ id }) => id));
  const parts = [
    ...present.filter(({ id }) => !kept.has(id)).map(({ id }) => ({ kind: 'remove-colourway', id }) as const),
    ...colourways
      .filter((colourway) => before.get(colourway.id) !== JSON.stringify(colourway))
      .map((colourway) => ({ kind: 'put-colourway', colourway }) as const),
  ].map((command) =>
    command.kind === 'put-colourway'
      ? preparePutColourway(later, command)
      : prepareRemoveColourway(later, command),
  );
  const founding: Write[] = [];
  const writes: Write[] = [];
  for (const prepared of parts) {
    if (!prepared.ok) return prepared;
    founding.push(...prepared.founding);
    writes.push(...prepared.writes);
  }
  return writeSet([...writes, ...placeWrites(context, colourways)], founding);
}

/** Places of colourways that do not stand as asked: those that are new come last otherwise. */
function placeWrites({ roots, scope }: CommandContext, colourways: Board['colourways']): Write[] {
  const stored = storedColourways(roots, scope.board);
  const ids = colourways.map(({ id }) => id);
  const orderOf = (id: string): unknown => stored.get(id)?.head.get('order');
  return ordersOf(ids, orderOf).flatMap((order, i) =>
    orderOf(ids[i]!) === order
      ? []
      : [set(roots.colourways, colourwayKey(scope.board, ids[i]!, 'order'), order)],
  );
}
