/** Three-way comparison of designs: what theirs changed since base, and where ours went another way meanwhile. */
import { GAUGE_FIELDS, PIECE_FIELDS, supplyValues } from '../../files/index.ts';
import type { Board, Colourway, Gauge, PaletteColour } from '../../pattern/index.ts';
import type { Change, ColourwayHead, Extent, PieceField, Shade } from './change.ts';
import { Found, isSame, type Merge } from './found.ts';
import type { KeyedDesign } from './keyed.ts';
import { mergePatterns } from './merge-pattern.ts';
import { agreeInOrder } from './order.ts';

/**
 * What of `theirs` differs from `ours` because theirs changed it since `base`. What only ours changed stays, and is not
 * named. With ours = base this is the plain comparison and there are no conflicts.
 * Total. O(base + ours + theirs). Rules D131 to D137.
 * @param hasKnots false leaves out the knots, for who takes them over as a whole
 */
export function mergeDesigns(
  base: KeyedDesign,
  ours: KeyedDesign,
  theirs: KeyedDesign,
  hasKnots = true,
): Merge {
  const found = new Found();
  mergePatterns(base, ours, theirs, found, hasKnots);
  mergePalettes(base.board, ours.board, theirs.board, found);
  mergeMeta(base.board, ours.board, theirs.board, found);
  mergeColourways(base.board, ours.board, theirs.board, found);
  return found.settle(ours, theirs);
}

/** What must change in `before` for it to show what `after` shows; empty when it does. Rule D131. */
export function compareDesigns(before: KeyedDesign, after: KeyedDesign): readonly Change[] {
  return mergeDesigns(before, before, after).changes;
}

function mergePalettes(base: Board, ours: Board, theirs: Board, found: Found): void {
  const [b, o, t] = [base, ours, theirs].map(({ palette }) => byId(palette)) as [Table, Table, Table];
  for (const [id, their] of t) {
    const our = o.get(id);
    const was = b.get(id);
    if (our !== undefined) {
      for (const field of ['name', 'hex'] as const)
        found.value(was?.[field], our[field], their[field], () => ({
          kind: 'colour',
          id,
          field,
          before: our[field],
          after: their[field],
        }));
    } else if (was === undefined) found.change({ kind: 'colour-added', colour: their });
    else if (!isSame(was, their)) found.conflict('ours-removed', { kind: 'colour-added', colour: their });
  }
  for (const [id, our] of o) {
    const was = b.get(id);
    if (was === undefined || t.has(id)) continue;
    const change: Change = { kind: 'colour-removed', colour: our };
    if (isSame(was, our)) found.change(change);
    else found.conflict('theirs-removed', change);
  }
  mergeOrder([...b.keys()], [...o.keys()], [...t.keys()], { kind: 'palette-order' }, found);
}
type Table = ReadonlyMap<string, PaletteColour>;

function mergeMeta(base: Board, ours: Board, theirs: Board, found: Found): void {
  found.value(base.title, ours.title, theirs.title, () => ({
    kind: 'title',
    before: ours.title,
    after: theirs.title,
  }));
  const extents = [base, ours, theirs].map(({ piece }) => extentOf(piece)) as [Extent, Extent, Extent];
  found.value(...extents, () => ({ kind: 'extent', before: extents[1], after: extents[2] }));
  for (const name of Object.keys(PIECE_FIELDS)) {
    if (name === 'repeats' || name === 'lengthMm') continue;
    const field = name as PieceField;
    const [b, o, t] = [base, ours, theirs].map(({ piece }) => piece[field] ?? null);
    found.value(b, o, t, () => ({ kind: 'piece', field, before: o!, after: t! }));
  }
  for (const name of Object.keys(GAUGE_FIELDS)) {
    const field = name as keyof Gauge;
    const [b, o, t] = [base, ours, theirs].map(({ gauge }) => gauge[field] ?? null);
    found.value(b, o, t, () => ({ kind: 'gauge', field, before: o!, after: t! }));
  }
  const said = [base, ours, theirs].map(({ supplies }) => supplyValues(supplies));
  for (const field of [...new Set(said.flatMap((values) => [...values.keys()]))].sort()) {
    const [b, o, t] = said.map((values) => values.get(field) ?? null);
    found.value(b, o, t, () => ({ kind: 'supply', field, before: o!, after: t! }));
  }
}

function extentOf({ repeats, lengthMm }: Extent): Extent {
  return { ...(repeats === undefined ? {} : { repeats }), ...(lengthMm === undefined ? {} : { lengthMm }) };
}

function mergeColourways(base: Board, ours: Board, theirs: Board, found: Found): void {
  const [b, o, t] = [base, ours, theirs].map(({ colourways }) => byId(colourways)) as [Sets, Sets, Sets];
  for (const [id, their] of t) {
    const our = o.get(id);
    const was = b.get(id);
    if (our !== undefined) mergeColourway(was, our, their, found);
    else if (was === undefined) found.change({ kind: 'colourway-added', colourway: their });
    else if (!isSame(was, their))
      found.conflict('ours-removed', { kind: 'colourway-added', colourway: their });
  }
  for (const [id, our] of o) {
    const was = b.get(id);
    if (was === undefined || t.has(id)) continue;
    const change: Change = { kind: 'colourway-removed', colourway: our };
    if (isSame(was, our)) found.change(change);
    else found.conflict('theirs-removed', change);
  }
}
type Sets = ReadonlyMap<string, Colourway>;

function mergeColourway(base: Colourway | undefined, ours: Colourway, theirs: Colourway, found: Found): void {
  const { id } = ours;
  const [b, o, t] = [base, ours, theirs].map((one) => byId(one?.colours ?? [])) as [Table, Table, Table];
  const isAlike = (x: Colourway | undefined, y: Colourway, inX: Table, inY: Table): boolean =>
    x !== undefined && isSame(headOf(x), headOf(y)) && agreeInOrder([...inX.keys()], [...inY.keys()]);
  found.sides(isAlike(ours, theirs, o, t), isAlike(base, theirs, b, t), isAlike(base, ours, b, o), () => ({
    kind: 'colourway',
    id,
    before: headOf(ours),
    after: headOf(theirs),
  }));
  for (const colour of new Set([...o.keys(), ...t.keys()])) {
    const [was, our, their] = [b, o, t].map((table) => shadeOf(table.get(colour)));
    found.value(was, our, their, () => ({
      kind: 'colourway-colour',
      id,
      colour,
      before: our!,
      after: their!,
    }));
  }
}

/** A colourway without its id and colours. */
export function headOf({ id: _id, colours: _colours, ...head }: Colourway): ColourwayHead {
  return head;
}

function shadeOf(colour: PaletteColour | undefined): Shade | null {
  return colour === undefined ? null : { name: colour.name, hex: colour.hex };
}

/** A change of order where only theirs moved something that both still have. */
function mergeOrder(
  base: readonly string[],
  ours: readonly string[],
  theirs: readonly string[],
  change: Change,
  found: Found,
): void {
  found.sides(agreeInOrder(ours, theirs), agreeInOrder(base, theirs), agreeInOrder(base, ours), () => change);
}

function byId<T extends { readonly id: string }>(list: readonly T[]): ReadonlyMap<string, T> {
  return new Map(list.map((one) => [one.id, one]));
}
