/** What a remark is about. Addresses, not indices: a pin stays with its knot whatever is inserted or deleted. */
import type { BareDesign as Design } from '../design.ts';
import type { KnotAddress, RowAddress, StringAddress } from '../presence.ts';
import { isAddressId, readAddress } from '../read-presence.ts';
import { type EntryAddress, type EntryPlace, placeOfEntry, readEntry, readStringAddress } from './entry.ts';

/** What a thread is about: the board, or a place on it by stable ids. */
export type Pin =
  | { readonly kind: 'board' }
  | { readonly kind: 'knot'; readonly address: KnotAddress }
  | { readonly kind: 'row'; readonly address: RowAddress }
  | { readonly kind: 'string'; readonly address: StringAddress }
  /** A panel beside the board, named by the page, or (`of`) one entry of it. Who knows no entries reads the panel. */
  | { readonly kind: 'panel'; readonly entry: string; readonly of?: EntryAddress };

/** Where a pin is now. `place` is null when the pair was deleted, hidden, or replaced with its pattern. */
export type PinPlace =
  | { readonly kind: 'board' }
  | { readonly kind: 'knot'; readonly place: { readonly row: number; readonly k: number } | null }
  | { readonly kind: 'row'; readonly place: number | null }
  | { readonly kind: 'string'; readonly place: number | null }
  | { readonly kind: 'panel'; readonly entry: string }
  | {
      readonly kind: 'entry';
      readonly panel: string;
      readonly of: EntryAddress;
      readonly place: EntryPlace | null;
    };

export const MAX_ENTRY_CHARACTERS = 60;

/** Reads a pin from a document; null when it is none. */
export function readPin(value: unknown): Pin | null {
  if (typeof value !== 'object' || value === null) return null;
  const { kind, address, entry, of } = value as Partial<Record<string, unknown>>;
  const fields = (typeof address === 'object' && address !== null ? address : {}) as Partial<
    Record<string, unknown>
  >;
  switch (kind) {
    case 'board':
      return { kind };
    case 'knot': {
      const read = readAddress(address);
      return read === undefined ? null : { kind, address: read };
    }
    case 'row': {
      const { rowPair, half } = fields;
      const isRow = isAddressId(rowPair) && (half === 'inside' || half === 'seam');
      return isRow ? { kind, address: { rowPair, half } } : null;
    }
    case 'string': {
      const read = readStringAddress(address);
      return read && { kind, address: read };
    }
    case 'panel': {
      const isPanel = typeof entry === 'string' && entry.length >= 1 && entry.length <= MAX_ENTRY_CHARACTERS;
      if (!isPanel) return null;
      // An entry that this program does not know (yet) is read as its panel: what was said about it is not to vanish.
      const read = readEntry(entry, of);
      return read === null ? { kind, entry } : { kind, entry, of: read };
    }
    default:
      return null;
  }
}

/** Where a pin is in the design now. */
export function placeOfPin(design: Design, pin: Pin): PinPlace {
  switch (pin.kind) {
    case 'knot':
      return { kind: 'knot', place: design.placeOf(pin.address) };
    case 'row':
      return { kind: 'row', place: design.rowOf(pin.address) };
    case 'string':
      return { kind: 'string', place: design.stringOf(pin.address) };
    case 'panel':
      return pin.of === undefined
        ? pin
        : {
            kind: 'entry',
            panel: panelOf(pin.entry, pin.of),
            of: pin.of,
            place: placeOfEntry(design, pin.of),
          };
    case 'board':
      return pin;
  }
}

/** The panel that shows the entry now. */
function panelOf(panel: string, of: EntryAddress): string {
  return panel === 'mounting' && of.on === 'colour' ? 'colours' : panel;
}

/** Reads a pin that somebody wants to set: as {@link readPin}, but an entry that its panel does not have is no pin. */
export function readNewPin(value: unknown): Pin | null {
  const pin = readPin(value);
  const isEntry = typeof value === 'object' && value !== null && 'of' in value && value.of !== undefined;
  return isEntry && (pin?.kind !== 'panel' || pin.of === undefined) ? null : pin;
}
