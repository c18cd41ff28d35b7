/** Reads what somebody else says about themselves. The server checks with it before passing on, the page before showing. */
import { MAX_ROWS } from '../pattern/index.ts';
import { type KnotAddress, OPENED_KINDS, type Opened, type Presence, type Seat } from './presence.ts';
import { readHex, wellFormed } from './text.ts';
import { LIMITS } from './wire.ts';

/** A pair's id is two ids of 40 characters and a dot. */
export const MAX_ADDRESS_CHARACTERS = 81;

/** Controls that would let a name write over its surroundings: C0, C1, and the marks that turn reading direction. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is looked for
const CONTROLS = /[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g;

/**
 * Reads a presence state.
 * @returns a new object that holds only the known fields, well below `LIMITS.presenceBytes`; null when a field is
 * missing, of another type, too long or no colour. Controls and lone surrogates in the name are taken out.
 * Rules D90 to D92, D330.
 */
export function readPresence(value: unknown): Presence | null {
  if (!isFields(value)) return null;
  const person = readPerson(value.person);
  if (person === null) return null;
  const cursor = value.cursor === null ? null : readAddress(value.cursor);
  const selection = value.selection === null ? null : readSelection(value.selection);
  const view = value.view === null ? null : readView(value.view);
  const open = value.open === undefined || value.open === null ? null : readOpened(value.open);
  const seat = value.seat === undefined ? null : readSeat(value.seat);
  if (cursor === undefined || selection === undefined || view === undefined) return null;
  if (open === undefined || seat === undefined) return null;
  const more = { ...(seat === null ? {} : { seat }), ...(open === null ? {} : { open }) };
  return { person, cursor, selection, view, ...more };
}

/** Reads who somebody says they are; null when a field is missing, of another type, too long or no colour. */
export function readPerson(value: unknown): Presence['person'] | null {
  if (!isFields(value)) return null;
  const { id, name } = value;
  const hex = readHex(value.hex);
  if (!isAddressId(id) || typeof name !== 'string' || name.length > LIMITS.nameCharacters || hex === null)
    return null;
  return { id, name: wellFormed(name).replace(CONTROLS, ''), hex };
}

/** Reads the address of a knot; undefined when it is none. */
export function readAddress(value: unknown): KnotAddress | undefined {
  if (!isFields(value)) return undefined;
  const { rowPair, stringPair, half } = value;
  if (!isAddressId(rowPair) || !isAddressId(stringPair) || (half !== 'inside' && half !== 'seam'))
    return undefined;
  return { rowPair, stringPair, half };
}

function readSelection(value: unknown): Presence['selection'] | undefined {
  if (!isFields(value)) return undefined;
  const from = readAddress(value.from);
  const to = readAddress(value.to);
  return from === undefined || to === undefined ? undefined : { from, to };
}

function readView(value: unknown): Presence['view'] | undefined {
  if (!isFields(value)) return undefined;
  const { fromRow, toRow } = value;
  return isRow(fromRow) && isRow(toRow) && fromRow <= toRow ? { fromRow, toRow } : undefined;
}

function readSeat(value: unknown): Seat | undefined {
  if (!isFields(value)) return undefined;
  const { since, isNamed } = value;
  if (!Number.isSafeInteger(since) || (since as number) < 0 || typeof isNamed !== 'boolean') return undefined;
  return { since: since as number, isNamed };
}

/** Null for a kind that a later release may know. */
function readOpened(value: unknown): Opened | null | undefined {
  if (!isFields(value) || typeof value.kind !== 'string' || !isAddressId(value.id)) return undefined;
  const kind = OPENED_KINDS.find((one) => one === value.kind);
  return kind === undefined ? null : { kind, id: value.id };
}

function isRow(value: unknown): value is number {
  return typeof value === 'number' && Number.isInteger(value) && value >= 0 && value < MAX_ROWS;
}

/** Whether a value can be the id of a pair or person: 1 to 81 characters of well-formed text. */
export function isAddressId(value: unknown): value is string {
  return (
    typeof value === 'string' &&
    value.length >= 1 &&
    value.length <= MAX_ADDRESS_CHARACTERS &&
    wellFormed(value) === value
  );
}

function isFields(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
