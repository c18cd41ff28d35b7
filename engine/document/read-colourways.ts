/** Reads the colourways. */
import { demandOf, MAX_COLOURWAYS, MAX_NAME_CHARACTERS, PIECES } from '../files/index.ts';
import type { ColourId, Colourway, ColourwayMaker, PaletteColour } from '../pattern/index.ts';
import { isColourId, readName } from './read-colours.ts';
import type { RepairLog } from './repair.ts';
import {
  colourwayKey,
  dressKey,
  type HeadField,
  type Roots,
  readColourwayKey,
  type Scope,
} from './schema.ts';
import { byUnits, cutPlain, readHex } from './text.ts';

/** The stored values of a colourway, or of one of its colours, by field. Absent = never written. */
type StoredFields = ReadonlyMap<string, unknown>;

/** A colourway as the document holds it, those that were removed and colours that the palette lacks included. */
export interface StoredColourway {
  readonly head: StoredFields;
  readonly colours: ReadonlyMap<ColourId, StoredFields>;
}

interface Draft {
  readonly head: Map<string, unknown>;
  readonly colours: Map<ColourId, Map<string, unknown>>;
}

/**
 * What the document holds of every colourway. A field's own key counts; what version 1 kept in one value counts for the
 * fields that have none. O(keys).
 */
export function storedColourways(roots: Roots, board: string): ReadonlyMap<string, StoredColourway> {
  const drafts = new Map<string, Draft>();
  const old: (() => void)[] = [];
  roots.colourways.forEach((value, key) => {
    const parts = readColourwayKey(board, key);
    if (parts === null || value === undefined) return;
    const { colourway, colour, field } = parts;
    const draft = drafts.get(colourway) ?? { head: new Map(), colours: new Map() };
    drafts.set(colourway, draft);
    let fields = draft.head;
    if (colour !== null) {
      fields = draft.colours.get(colour) ?? new Map();
      draft.colours.set(colour, fields);
    }
    if (field !== null) fields.set(field, value);
    else old.push(() => spreadOld(fields, value, colour === null));
  });
  // Only when all keys are known can it be told which fields are their own.
  for (const spread of old) spread();
  return drafts;
}

/** Takes a value of version 1, `{name, order}` or `{name, hex, order}`, apart. Null was what is left of something removed. */
function spreadOld(fields: Map<string, unknown>, value: unknown, isHead: boolean): void {
  for (const [field, part] of oldFields(value, isHead)) if (!fields.has(field)) fields.set(field, part);
}

/** The fields that a value of version 1 stands for. */
export function oldFields(value: unknown, isHead: boolean): readonly (readonly [string, unknown])[] {
  const whole = isPlain(value) ? value : {};
  const order = typeof whole.order === 'number' && Number.isFinite(whole.order) ? whole.order : 0;
  const name: (readonly [string, unknown])[] = whole.name === undefined ? [] : [['name', whole.name]];
  if (isHead) return [['order', value === null ? null : order], ...name];
  // A colour without a readable look reads as one that is unreadable, not as one that is not there.
  return [['hex', value === null ? null : (whole.hex ?? '')], ['order', order], ...name];
}

function isPlain(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null;
}

interface Ordered {
  readonly order: number;
  readonly id: string;
}

/** Reads the colourways; colours that the palette lacks are left out. Rule D26. */
export function readColourways(
  roots: Roots,
  { board }: Scope,
  palette: readonly PaletteColour[],
  log: RepairLog,
): readonly Colourway[] {
  const known = new Set(palette.map(({ id }) => id));
  const found: (Ordered & { readonly colourway: Colourway })[] = [];
  for (const [id, { head, colours }] of storedColourways(roots, board)) {
    const path = (field: HeadField): string => `colourways.${colourwayKey(board, id, field)}`;
    const order = head.get('order');
    // Colours without a colourway wait for the undo that brings it back.
    if (order === undefined || order === null) continue;
    if (!isColourId(id)) {
      log.note('colourway-unreadable', path('order'));
      continue;
    }
    if (!isOrder(order)) log.note('colourway-unreadable', path('order'));
    const maker = readMaker(head.get('maker'), path('maker'), log);
    const pieces = readPieces(head.get('pieces'), path('pieces'), log);
    const colourway: Colourway = {
      id,
      name: readName(head.get('name'), path('name'), log),
      ...(maker === null ? {} : { maker }),
      ...(pieces === null ? {} : { pieces }),
      colours: readColours(board, id, colours, known, log),
    };
    found.push({ id, order: placeOf(order), colourway });
  }
  found.sort(byOrder);
  if (found.length > MAX_COLOURWAYS)
    log.note('too-many-colourways', `colourways[${MAX_COLOURWAYS}]`, found.length - MAX_COLOURWAYS);
  return found.slice(0, MAX_COLOURWAYS).map(({ colourway }) => colourway);
}

function readColours(
  board: string,
  colourway: string,
  stored: StoredColourway['colours'],
  known: ReadonlySet<string>,
  log: RepairLog,
): Colourway['colours'] {
  const colours: (Ordered & PaletteColour)[] = [];
  for (const [id, fields] of stored) {
    const raw = fields.get('hex');
    // Taken back, or only named: as on the board.
    if (raw === undefined || raw === null) continue;
    const hex = readHex(raw);
    if (hex === null) log.note('colourway-unreadable', `colourways.${dressKey(board, colourway, id, 'hex')}`);
    if (hex === null || !known.has(id)) continue;
    const name = readName(fields.get('name'), `colourways.${dressKey(board, colourway, id, 'name')}`, log);
    colours.push({ id, order: placeOf(fields.get('order')), name, hex });
  }
  return colours.sort(byOrder).map(({ id, name, hex }) => ({ id, name, hex }));
}

function readMaker(value: unknown, path: string, log: RepairLog): ColourwayMaker | null {
  if (value === undefined || value === null) return null;
  const { id, name } = isPlain(value) ? value : {};
  if (!isColourId(id) || typeof name !== 'string') {
    log.note('colourway-unreadable', path);
    return null;
  }
  return { id, name: cutPlain(name, MAX_NAME_CHARACTERS) };
}

function readPieces(value: unknown, path: string, log: RepairLog): number | null {
  if (value === undefined || value === null) return null;
  if (demandOf(PIECES, value) === null) return value as number;
  log.note('colourway-unreadable', path);
  return null;
}

/** Whether a value places something among its like. */
export function isOrder(value: unknown): value is number {
  return typeof value === 'number' && Number.isFinite(value);
}

/** The number by which something has its place, as it reads. */
export function placeOf(order: unknown): number {
  return isOrder(order) ? order : 0;
}

function byOrder(a: Ordered, b: Ordered): number {
  return a.order - b.order || byUnits(a.id, b.id);
}
