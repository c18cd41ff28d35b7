/**
 * One entry of a panel that a remark is about: a cut string, a colour, a step, a break of symmetry, a value. By ids, as everything that is
 * pinned, so that it stays with its entry whatever is inserted or deleted. Rules Y20 to Y23.
 */
import { GAUGE_FIELDS, PIECE_FIELDS } from '../../files/index.ts';
import type { Piece } from '../../pattern/index.ts';
import type { BareDesign as Design } from '../design.ts';
import type { KnotAddress, StringAddress } from '../presence.ts';
import { isAddressId, readAddress } from '../read-presence.ts';

/** What an entry is about, by ids. */
export type EntryAddress =
  | { readonly on: 'string'; readonly address: StringAddress }
  /** Two strings that one entry speaks of: the ends of a folded one, or a pair that should match. */
  | { readonly on: 'strings'; readonly left: StringAddress; readonly right: StringAddress }
  | { readonly on: 'knot'; readonly address: KnotAddress }
  | { readonly on: 'colour'; readonly id: string }
  | { readonly on: 'value'; readonly name: string };

/** The same by where it is now. */
export type EntryPlace =
  | { readonly on: 'string'; readonly string: number }
  | { readonly on: 'strings'; readonly left: number; readonly right: number }
  | { readonly on: 'knot'; readonly row: number; readonly k: number }
  | { readonly on: 'colour'; readonly id: string }
  | { readonly on: 'value'; readonly name: string };

/** What the entries of each panel are about; a panel that is not named has none that can be talked about. */
export const PANEL_ENTRIES: Readonly<Record<string, readonly EntryAddress['on'][]>> = {
  // Colours stood there before they had a panel of their own.
  mounting: ['strings', 'string', 'colour'],
  colours: ['colour'],
  cutting: ['strings', 'string', 'colour'],
  gauge: ['value'],
  work: ['knot'],
  symmetry: ['knot', 'strings'],
  piece: ['value'],
  cost: ['value'],
};

/** Fields of the piece that stand in the panel of the cost. */
export const COST_VALUES: ReadonlySet<string> = new Set<keyof Piece>([
  'skeinMm',
  'skeinPrice',
  'partsPrice',
  'hourlyRate',
  'knotsPerMinute',
  'pieces',
  'cutMinutes',
  'mountMinutes',
  'finishMinutes',
  'wasteShare',
  'postPrice',
  'fixedFee',
  'soldAs',
  'marginShare',
  'feeShare',
  'taxShare',
]);

const VALUES: Readonly<Record<string, ReadonlySet<string>>> = {
  gauge: new Set(['bar', ...Object.keys(GAUGE_FIELDS)]),
  // The notes have a panel of their own, and how singles are counted is no field there.
  piece: new Set(Object.keys(PIECE_FIELDS).filter((name) => name !== 'notes' && name !== 'singles')),
  // Some of them stood in the panel of the piece before there was one of the cost: what is said about them there stays.
  cost: COST_VALUES,
};

const FIELDS: Readonly<Record<EntryAddress['on'], readonly string[]>> = {
  string: ['on', 'address'],
  strings: ['on', 'left', 'right'],
  knot: ['on', 'address'],
  colour: ['on', 'id'],
  value: ['on', 'name'],
};

type Fields = Readonly<Record<string, unknown>>;

/** The address of a string, without anything else that stood beside it; null when it is none. */
export function readStringAddress(value: unknown): StringAddress | null {
  const { stringPair, side } = (typeof value === 'object' && value !== null ? value : {}) as Fields;
  return isAddressId(stringPair) && (side === 0 || side === 1) ? { stringPair, side } : null;
}

/** Reads an entry of a panel; null when it is none, or none that this panel has. */
export function readEntry(panel: string, value: unknown): EntryAddress | null {
  if (typeof value !== 'object' || value === null) return null;
  const { on, address, left, right, id, name } = value as Fields;
  const isHere = Object.hasOwn(PANEL_ENTRIES, panel) && PANEL_ENTRIES[panel]!.some((one) => one === on);
  if (!isHere || Object.keys(value).some((field) => !FIELDS[on as EntryAddress['on']].includes(field)))
    return null;
  switch (on as EntryAddress['on']) {
    case 'string': {
      const read = readStringAddress(address);
      return read && { on: 'string', address: read };
    }
    case 'strings': {
      const [first, second] = [readStringAddress(left), readStringAddress(right)];
      return first && second && { on: 'strings', left: first, right: second };
    }
    case 'knot': {
      const read = readAddress(address);
      return read === undefined ? null : { on: 'knot', address: read };
    }
    case 'colour':
      return isAddressId(id) ? { on: 'colour', id } : null;
    case 'value':
      return typeof name === 'string' && VALUES[panel]?.has(name) === true ? { on: 'value', name } : null;
  }
}

/** Where what an entry is about is now; null when it is gone. */
export function placeOfEntry(design: Design, of: EntryAddress): EntryPlace | null {
  switch (of.on) {
    case 'string': {
      const string = design.stringOf(of.address);
      return string === null ? null : { on: 'string', string };
    }
    case 'strings': {
      const [left, right] = [design.stringOf(of.left), design.stringOf(of.right)];
      return left === null || right === null ? null : { on: 'strings', left, right };
    }
    case 'knot': {
      const place = design.placeOf(of.address);
      return place && { on: 'knot', row: place.row, k: place.k };
    }
    case 'colour':
      return design.snapshot.board.palette.some(({ id }) => id === of.id) ? of : null;
    case 'value':
      return of;
  }
}

/** The address of an entry that is shown now; null when there is nothing at that place. */
export function addressOfEntry(design: Design, at: EntryPlace): EntryAddress | null {
  switch (at.on) {
    case 'string': {
      const address = design.stringAddressOf(at.string);
      return address && { on: 'string', address };
    }
    case 'strings': {
      const [left, right] = [design.stringAddressOf(at.left), design.stringAddressOf(at.right)];
      return left && right && { on: 'strings', left, right };
    }
    case 'knot': {
      const address = design.addressOf(at.row, at.k);
      return address && { on: 'knot', address };
    }
    case 'colour':
    case 'value':
      return at;
  }
}
