/** What a remark is about. Addresses, not indices: a pin stays with its knot whatever is inserted or deleted. */
import type { Design } from '../design.ts';
import type { KnotAddress, RowAddress, StringAddress } from '../presence.ts';
import { isAddressId, readAddress } from '../read-presence.ts';

/** What a thread is about: the board, or a place on it by stable ids. */
export type Pin =
  | { readonly kind: 'board' }
  | { readonly kind: 'knot'; readonly address: KnotAddress }
  | { readonly kind: 'row'; readonly address: RowAddress }
  | { readonly kind: 'string'; readonly address: StringAddress }
  /** An entry of a panel beside the board, named by the page. */
  | { readonly kind: 'panel'; readonly entry: string };

/** Where a pin is now. `place` is null when the pair was deleted, hidden, or replaced with its pattern. */
export type PinPlace =
  | { readonly kind: 'board' }
  | { readonly kind: 'knot'; readonly place: { readonly row: number; readonly k: number } | null }
  | { readonly kind: 'row'; readonly place: number | null }
  | { readonly kind: 'string'; readonly place: number | null }
  | { readonly kind: 'panel'; readonly entry: string };

const MOST_ENTRY_CHARACTERS = 60;

/** Reads a pin from a document; null when it is none. */
export function readPin(value: unknown): Pin | null {
  if (typeof value !== 'object' || value === null) return null;
  const { kind, address, entry } = value as Partial<Record<string, unknown>>;
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
      const { stringPair, side } = fields;
      const isString = isAddressId(stringPair) && (side === 0 || side === 1);
      return isString ? { kind, address: { stringPair, side } } : null;
    }
    case 'panel':
      return typeof entry === 'string' && entry.length >= 1 && entry.length <= MOST_ENTRY_CHARACTERS
        ? { kind, entry }
        : null;
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
    case 'board':
    case 'panel':
      return pin;
  }
}
