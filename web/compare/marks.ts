/** What differs between two designs, as places in each of their pictures. */
import { type Change, isShown, type KeyedDesign, type KnotAddress } from '../../engine/document/index.ts';
import { type Cell, knotsInRow, rowParity, rowStride, weave } from '../../engine/index.ts';

/**
 * Marks of one picture. Rows and strings as shown. `changed`: another knot or colour; `gone`, `added`: here and not on the other side;
 * `follows`: the same knot shows another colour; `asked`: both sides changed it, and somebody has to say which counts.
 */
export interface Marks {
  readonly knots: readonly (Cell & { readonly kind: 'changed' | 'follows' | 'asked' })[];
  readonly rows: readonly {
    readonly from: number;
    readonly to: number;
    readonly kind: 'gone' | 'added' | 'asked';
  }[];
  readonly strings: readonly { readonly at: number; readonly kind: 'changed' | 'gone' | 'added' | 'asked' }[];
}

/** Cell of a knot in a design as shown; null when it is not there or hidden. */
export function cellOf(keyed: KeyedDesign, { rowPair, stringPair, half }: KnotAddress): Cell | null {
  const i = keyed.rowPairIds.indexOf(rowPair);
  const j = keyed.stringPairIds.indexOf(stringPair);
  if (i < 0 || j < 0 || !isShown(keyed, i, j, half)) return null;
  return { row: i * 2 + (half === 'seam' ? 1 : 0) - keyed.board.pattern.start, k: j };
}

/** Marks of both pictures. O(knots). */
export function marksOf(
  before: KeyedDesign,
  after: KeyedDesign,
  changes: readonly Change[],
): readonly [Marks, Marks] {
  const isReplaced = changes.some(({ kind }) => kind === 'pattern');
  if (isReplaced) return byPlace(before, after);
  const finders = [finderOf(before), finderOf(after)] as const;
  const sides = [before, after] as const;
  const changed = [new Set<number>(), new Set<number>()] as const;
  const strings: { at: number; kind: 'changed' | 'gone' | 'added' }[][] = [[], []];
  const rows: { from: number; to: number; kind: 'gone' | 'added' }[][] = [[], []];
  for (const change of changes) {
    switch (change.kind) {
      case 'knot':
        for (const s of [0, 1] as const) {
          const cell = finders[s](change.address);
          if (cell !== null) changed[s].add(cell.row * rowStride(stringsOf(sides[s])) + cell.k);
        }
        break;
      case 'string-colour':
        for (const s of [0, 1] as const) {
          const j = sides[s].stringPairIds.indexOf(change.address.stringPair);
          const at = j * 2 + change.address.side;
          if (j >= 0 && at < stringsOf(sides[s])) strings[s]!.push({ at, kind: 'changed' });
        }
        break;
      case 'rows-added':
      case 'rows-removed': {
        const s = change.kind === 'rows-added' ? 1 : 0;
        const { start, rows: all } = sides[s].board.pattern;
        const first = sides[s].rowPairIds.indexOf(change.pair) * 2 - start;
        const [from, to] = [Math.max(0, first), Math.min(all - 1, first + 1)];
        if (from <= to) rows[s]!.push({ from, to, kind: s === 1 ? 'added' : 'gone' });
        break;
      }
      case 'strings-added':
      case 'strings-removed': {
        const s = change.kind === 'strings-added' ? 1 : 0;
        const first = sides[s].stringPairIds.indexOf(change.pair) * 2;
        for (const at of [first, first + 1])
          if (at < stringsOf(sides[s])) strings[s]!.push({ at, kind: s === 1 ? 'added' : 'gone' });
      }
    }
  }
  const follows = followingCells(before, after, changed);
  return [0, 1].map((s): Marks => {
    const stride = rowStride(stringsOf(sides[s]!));
    const cells = (set: ReadonlySet<number>, kind: 'changed' | 'follows') =>
      Array.from(set, (at) => ({ row: Math.floor(at / stride), k: at % stride, kind }));
    return {
      knots: [...cells(changed[s]!, 'changed'), ...cells(follows[s]!, 'follows')],
      rows: joined(rows[s]!),
      strings: strings[s]!,
    };
  }) as unknown as readonly [Marks, Marks];
}

/** Marks of what both sides changed, on one side's picture. */
export function askedMarks(keyed: KeyedDesign, asked: readonly Change[]): Marks {
  const knots: Marks['knots'][number][] = [];
  const rows: Marks['rows'][number][] = [];
  const strings: Marks['strings'][number][] = [];
  for (const change of asked) {
    switch (change.kind) {
      case 'knot': {
        const cell = cellOf(keyed, change.address);
        if (cell !== null) knots.push({ ...cell, kind: 'asked' });
        break;
      }
      case 'string-colour':
      case 'strings-added':
      case 'strings-removed': {
        const isOne = change.kind === 'string-colour';
        const j = keyed.stringPairIds.indexOf(isOne ? change.address.stringPair : change.pair);
        for (const side of isOne ? [change.address.side] : [0, 1])
          if (j >= 0 && j * 2 + side < stringsOf(keyed)) strings.push({ at: j * 2 + side, kind: 'asked' });
        break;
      }
      case 'rows-added':
      case 'rows-removed': {
        const i = keyed.rowPairIds.indexOf(change.pair);
        const { start, rows: all } = keyed.board.pattern;
        const [from, to] = [Math.max(0, i * 2 - start), Math.min(all - 1, i * 2 + 1 - start)];
        if (i >= 0 && from <= to) rows.push({ from, to, kind: 'asked' });
      }
    }
  }
  return { knots, rows, strings };
}

function stringsOf(keyed: KeyedDesign): number {
  return keyed.board.pattern.colours.length;
}

function finderOf(keyed: KeyedDesign): (address: KnotAddress) => Cell | null {
  const rows = new Map(keyed.rowPairIds.map((id, i) => [id, i]));
  const strings = new Map(keyed.stringPairIds.map((id, j) => [id, j]));
  return ({ rowPair, stringPair, half }) => {
    const i = rows.get(rowPair);
    const j = strings.get(stringPair);
    if (i === undefined || j === undefined || !isShown(keyed, i, j, half)) return null;
    return { row: i * 2 + (half === 'seam' ? 1 : 0) - keyed.board.pattern.start, k: j };
  };
}

/** Rows that touch become one. */
function joined(
  rows: readonly { readonly from: number; readonly to: number; readonly kind: 'gone' | 'added' }[],
): Marks['rows'] {
  const out: { from: number; to: number; kind: 'gone' | 'added' }[] = [];
  for (const row of [...rows].sort((a, b) => a.from - b.from)) {
    const last = out.at(-1);
    if (last !== undefined && last.to + 1 >= row.from) last.to = Math.max(last.to, row.to);
    else out.push({ ...row });
  }
  return out;
}

/** A number for each colour that looks different, the same for both sides. */
type Looks = Map<string, number>;

/** What shows at each cell, as a number of its look; -1 where nothing does. Laid out as `Pattern.knots`. */
function shownLooks({ board }: KeyedDesign, looks: Looks): Int32Array {
  const { pattern, palette } = board;
  const numbers = new Map(
    palette.map(({ id, hex }) => {
      const number = looks.get(hex) ?? looks.size;
      looks.set(hex, number);
      return [id, number];
    }),
  );
  const ofStrings = pattern.colours.map((id) => numbers.get(id)!);
  return Int32Array.from(weave(pattern).shownFlat, (string) => (string < 0 ? -1 : ofStrings[string]!));
}

/** Knots that stayed as they are and show another colour all the same. O(knots). */
function followingCells(
  before: KeyedDesign,
  after: KeyedDesign,
  changed: readonly [ReadonlySet<number>, ReadonlySet<number>],
): readonly [ReadonlySet<number>, ReadonlySet<number>] {
  const found = [new Set<number>(), new Set<number>()] as const;
  const looks: Looks = new Map();
  const [was, is] = [shownLooks(before, looks), shownLooks(after, looks)];
  const columnsAfter = new Map(after.stringPairIds.map((id, j) => [id, j]));
  const columns = before.stringPairIds.map((id) => columnsAfter.get(id) ?? -1);
  const rowsAfter = new Map(after.rowPairIds.map((id, i) => [id, i]));
  const [a, b] = [before.board.pattern, after.board.pattern];
  const [stringsA, stringsB] = [a.colours.length, b.colours.length];
  const [strideA, strideB] = [rowStride(stringsA), rowStride(stringsB)];
  for (let row = 0; row < a.rows; row++) {
    const i = rowsAfter.get(before.rowPairIds[(row + a.start) >> 1]!);
    const parity = rowParity(a.start, row);
    const rowB = i === undefined ? -1 : i * 2 + parity - b.start;
    if (rowB < 0 || rowB >= b.rows) continue;
    const countB = knotsInRow(stringsB, parity);
    for (let k = 0; k < knotsInRow(stringsA, parity); k++) {
      const column = columns[k]!;
      if (column < 0 || column >= countB) continue;
      const [at, atB] = [row * strideA + k, rowB * strideB + column];
      if (was[at] === is[atB] || changed[0].has(at)) continue;
      found[0].add(at);
      found[1].add(atB);
    }
  }
  return found;
}

/** Where the pattern was replaced: place by place, when both have the same shape; nothing when not. */
function byPlace(before: KeyedDesign, after: KeyedDesign): readonly [Marks, Marks] {
  const none: Marks = { knots: [], rows: [], strings: [] };
  const [a, b] = [before.board.pattern, after.board.pattern];
  if (a.rows !== b.rows || a.start !== b.start || a.colours.length !== b.colours.length) return [none, none];
  const looks: Looks = new Map();
  const [was, is] = [shownLooks(before, looks), shownLooks(after, looks)];
  const stride = rowStride(a.colours.length);
  const knots: Marks['knots'][number][] = [];
  for (let at = 0; at < a.knots.length; at++) {
    const cell = { row: Math.floor(at / stride), k: at % stride };
    if (a.knots[at] !== b.knots[at]) knots.push({ ...cell, kind: 'changed' });
    else if (was[at] !== is[at]) knots.push({ ...cell, kind: 'follows' });
  }
  const strings = a.colours.flatMap((id, at) =>
    id === b.colours[at] ? [] : [{ at, kind: 'changed' as const }],
  );
  const marks: Marks = { knots, rows: [], strings };
  return [marks, marks];
}
