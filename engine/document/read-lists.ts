/** Reads the lists of pairs: which rows and strings the pattern has. */
import { MAX_ROWS, MAX_STRINGS } from '../pattern/index.ts';
import type { RepairKind, RepairLog } from './repair.ts';
import { localOf, type Roots, type Scope, STAND_IN, scoped } from './schema.ts';

/** Rows and strings as they are shown. */
export interface Shape {
  readonly rowPairIds: readonly string[];
  readonly stringPairIds: readonly string[];
  readonly start: 0 | 1;
  readonly rows: number;
  /** 2 to 200. */
  readonly strings: number;
  /** Index of each row pair, by id. */
  readonly rowIndex: ReadonlyMap<string, number>;
  /** Index of each string pair, by the local part of its id. */
  readonly stringIndex: ReadonlyMap<string, number>;
  readonly firstHidden: boolean;
  readonly lastHidden: boolean;
  readonly loneString: boolean;
  /** Whether the only pair of strings is the stand-in, which no list holds. */
  readonly isStandIn: boolean;
}

/** Reads pairs and flags of the current pattern. Rules D10 to D15. */
export function readShape(roots: Roots, { pattern }: Scope, log: RepairLog): Shape {
  const firstHidden = readFlag(roots, pattern, 'firstHidden', log);
  const lastHidden = readFlag(roots, pattern, 'lastHidden', log);
  const isLone = readFlag(roots, pattern, 'loneString', log);

  // Both ends hidden leave room for one pair more.
  const mostRowPairs = (MAX_ROWS >> 1) + (firstHidden && lastHidden ? 1 : 0);
  const rows = readPairs(roots.rowPairs.toArray(), pattern, mostRowPairs, 'row', log);
  const strings = readPairs(roots.stringPairs.toArray(), pattern, MAX_STRINGS >> 1, 'string', log);

  const isStandIn = strings.ids.length === 0;
  if (isStandIn) {
    log.note('no-string-pairs', 'stringPairs');
    strings.ids.push(scoped(pattern, STAND_IN));
    strings.index.set(STAND_IN, 0);
  }
  const loneString = isLone && strings.ids.length > 1;
  if (isLone && !loneString) log.note('lone-string-alone', 'meta.loneString');
  return {
    rowPairIds: rows.ids,
    stringPairIds: strings.ids,
    start: firstHidden ? 1 : 0,
    rows: Math.max(0, rows.ids.length * 2 - (firstHidden ? 1 : 0) - (lastHidden ? 1 : 0)),
    strings: strings.ids.length * 2 - (loneString ? 1 : 0),
    rowIndex: new Map(rows.ids.map((id, i) => [id, i])),
    stringIndex: strings.index,
    firstHidden,
    lastHidden,
    loneString,
    isStandIn,
  };
}

function readPairs(
  entries: readonly unknown[],
  pattern: string,
  most: number,
  what: 'row' | 'string',
  log: RepairLog,
): { readonly ids: string[]; readonly index: Map<string, number> } {
  const ids: string[] = [];
  const index = new Map<string, number>();
  const fault = (kind: RepairKind, i: number): void => log.note(kind, `${what}Pairs[${i}]`);
  entries.forEach((entry, i) => {
    const local = localOf(pattern, entry);
    if (local === null) {
      // Pairs of other patterns wait there for an undo; only what can be no pair at all is a fault.
      if (typeof entry !== 'string') fault(`${what}-pair-unreadable`, i);
    } else if (index.has(local)) fault(`${what}-pair-twice`, i);
    else if (ids.length >= most) fault(`too-many-${what}-pairs`, i);
    else {
      index.set(local, ids.length);
      ids.push(entry as string);
    }
  });
  return { ids, index };
}

function readFlag(roots: Roots, pattern: string, name: string, log: RepairLog): boolean {
  const value = roots.meta.get(scoped(pattern, name));
  if (value !== undefined && typeof value !== 'boolean') log.note('flag-unreadable', `meta.${name}`);
  return value === true;
}

/** Whether two shapes show the same rows and strings. */
export function isSameShape(a: Shape, b: Shape): boolean {
  return (
    a.start === b.start &&
    a.rows === b.rows &&
    a.strings === b.strings &&
    a.isStandIn === b.isStandIn &&
    a.lastHidden === b.lastHidden &&
    isSameList(a.rowPairIds, b.rowPairIds) &&
    isSameList(a.stringPairIds, b.stringPairIds)
  );
}

function isSameList(a: readonly string[], b: readonly string[]): boolean {
  return a.length === b.length && a.every((id, i) => id === b[i]);
}
