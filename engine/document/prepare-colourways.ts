/** Computes changes of colourways. */
import { demandOf, MAX_COLOURWAYS, PIECES } from '../files/index.ts';
import type { Command } from './command.ts';
import { checkHex, checkName } from './prepare-colours.ts';
import { isKnown } from './prepare-pairs.ts';
import { unknownColour } from './prepare-string-colours.ts';
import { isColourId } from './read-colours.ts';
import { isOrder, type StoredColourway, storedColourways } from './read-colourways.ts';
import { colourwayKey, DOCUMENT_VERSION, type DressField, dressKey, type HeadField } from './schema.ts';
import { byUnits, readHex } from './text.ts';
import {
  type CommandContext,
  checkFields,
  checkList,
  type Prepared,
  refuse,
  show,
  writeSet,
} from './write-set.ts';
import { set, type Write } from './writes.ts';

type Of<K extends Command['kind']> = Extract<Command, { kind: K }>;
type Refusal = ReturnType<typeof refuse>;

/** Only the fields that differ are written, so that two people can work on one colourway. Rules D66, D68. */
export function preparePutColourway(context: CommandContext, { colourway }: Of<'put-colourway'>): Prepared {
  const { roots, scope, board } = context;
  const fault = checkColourway(context, colourway);
  if (fault !== null) return fault;
  const { id, name, maker, pieces, colours } = colourway;
  const all = storedColourways(roots, scope.board);
  const stored = all.get(id);
  const isNew = !board.colourways.some((other) => other.id === id);
  if (isNew && board.colourways.length >= MAX_COLOURWAYS)
    return refuse('limit', '', { be: 'most-colourways', most: MAX_COLOURWAYS }, MAX_COLOURWAYS + 1);

  const writes: Write[] = [];
  const head = (field: HeadField, value: unknown): void => {
    if (!isSaid(stored?.head.get(field), value))
      writes.push(set(roots.colourways, colourwayKey(scope.board, id, field), value));
  };
  if (isNew) head('order', nextOrder(all));
  head('name', name);
  if (maker !== undefined || stored?.head.get('maker') !== undefined)
    head('maker', maker === undefined ? null : { id: maker.id, name: maker.name });
  if (pieces !== undefined || stored?.head.get('pieces') !== undefined) head('pieces', pieces ?? null);
  const dress = (colour: string, field: DressField, value: unknown): void => {
    if (!isSaid(stored?.colours.get(colour)?.get(field), value))
      writes.push(set(roots.colourways, dressKey(scope.board, id, colour, field), value));
  };
  const orders = ordersOf(
    colours.map((colour) => colour.id),
    (colour) => stored?.colours.get(colour)?.get('order'),
  );
  colours.forEach((colour, at) => {
    dress(colour.id, 'hex', readHex(colour.hex));
    dress(colour.id, 'name', colour.name);
    dress(colour.id, 'order', orders[at]);
  });
  const kept = new Set(colours.map((colour) => colour.id));
  // Colours of a palette entry that was removed wait for its undo.
  for (const [colour, fields] of stored?.colours ?? [])
    if (!kept.has(colour) && isKnown(context, colour) && fields.get('hex') !== undefined)
      dress(colour, 'hex', null);
  return writeSet(writes, writes.length > 0 ? versionWrites(context) : []);
}

/** Its colours stay, unseen, for an undo. Rule D67. */
export function prepareRemoveColourway(context: CommandContext, { id }: Of<'remove-colourway'>): Prepared {
  const { roots, scope, board } = context;
  if (!board.colourways.some((other) => other.id === id))
    return refuse('unknown-colourway', 'id', `there is no colourway ${show(id)}`);
  return writeSet(
    [set(roots.colourways, colourwayKey(scope.board, id, 'order'), null)],
    versionWrites(context),
  );
}

function checkColourway(
  context: CommandContext,
  colourway: Of<'put-colourway'>['colourway'],
): Refusal | null {
  const noFields = checkFields('colourway', colourway);
  if (noFields !== null) return noFields;
  const { id, name, maker, pieces, colours } = colourway;
  if (!isColourId(id)) return badId('colourway.id');
  const noMaker = maker === undefined ? null : checkFields('colourway.maker', maker);
  const unreadable = noMaker ?? checkList('colourway.colours', colours);
  if (unreadable !== null) return unreadable;
  if (maker !== undefined && !isColourId(maker.id)) return badId('colourway.maker.id');
  const badName =
    checkName('colourway.name', name) ??
    (maker === undefined ? null : checkName('colourway.maker.name', maker.name));
  if (badName !== null) return badName;
  const demand = pieces === undefined ? null : demandOf(PIECES, pieces);
  if (demand !== null) return refuse('out-of-range', 'colourway.pieces', demand, pieces);
  const seen = new Set<string>();
  for (const [i, colour] of colours.entries()) {
    const path = `colourway.colours[${i}]`;
    const noColour = checkFields(path, colour);
    if (noColour !== null) return noColour;
    if (!isKnown(context, colour.id)) return unknownColour(`${path}.id`, colour.id);
    if (seen.has(colour.id)) return refuse('duplicate-id', `${path}.id`, `${show(colour.id)} is used twice`);
    seen.add(colour.id);
    const fault = checkName(`${path}.name`, colour.name) ?? checkHex(`${path}.hex`, colour.hex);
    if (fault !== null) return fault;
  }
  return null;
}

function badId(path: string): Refusal {
  return refuse('out-of-range', path, { be: 'id' }, '');
}

/** Order numbers that place these as asked, with as few new ones as go from the front. @param orderOf what is stored of one */
export function ordersOf(ids: readonly string[], orderOf: (id: string) => unknown): readonly number[] {
  let last = Number.NEGATIVE_INFINITY;
  let lastId = '';
  return ids.map((id) => {
    const order = orderOf(id);
    const stays = isOrder(order) && (order > last || (order === last && byUnits(id, lastId) > 0));
    last = stays ? order : last === Number.NEGATIVE_INFINITY ? 0 : Math.floor(last) + 1;
    lastId = id;
    return last;
  });
}

function nextOrder(all: ReadonlyMap<string, StoredColourway>): number {
  let next = 0;
  for (const { head } of all.values()) {
    const order = head.get('order');
    if (isOrder(order)) next = Math.max(next, Math.floor(order) + 1);
  }
  return next;
}

/**
 * A page of version 1 would write where nobody reads any more, so it is told that the document is newer. Not part of what
 * an undo takes back.
 */
function versionWrites({ roots }: CommandContext): readonly Write[] {
  return roots.meta.get('version') === DOCUMENT_VERSION ? [] : [set(roots.meta, 'version', DOCUMENT_VERSION)];
}

/** Whether what is stored says this already; a name that was never written is the empty one. */
function isSaid(stored: unknown, value: unknown): boolean {
  return JSON.stringify(stored ?? '') === JSON.stringify(value ?? '');
}
