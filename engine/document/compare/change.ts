/** One difference between two designs: where it is, by ids, and what was and is there. Plain data. */
import type { Colourway, Gauge, KnotCode, PaletteColour, Piece } from '../../pattern/index.ts';
import type { KnotAddress, StringAddress } from '../presence.ts';
import type { Ends, KeyedDesign } from './keyed.ts';

/** How much is made of the pattern: at most one of the two. */
export type Extent = Pick<Piece, 'repeats' | 'lengthMm'>;
/** Fields of the piece that stand alone. */
export type PieceField = Exclude<keyof Piece, 'repeats' | 'lengthMm'>;
/** A colourway without its colours. */
export type ColourwayHead = Omit<Colourway, 'id' | 'colours'>;
/** How a colourway shows one colour of the palette. */
export interface Shade {
  readonly name: string;
  readonly hex: string;
}

/**
 * One thing that differs. `before` is what the one side has, `after` the other; null is none.
 * `pattern`: rows, strings and knots are all others; nothing in them can be told apart by ids.
 */
export type Change =
  | { readonly kind: 'pattern' }
  | {
      readonly kind: 'knot';
      readonly address: KnotAddress;
      readonly before: KnotCode;
      readonly after: KnotCode;
    }
  | {
      readonly kind: 'string-colour';
      readonly address: StringAddress;
      readonly before: string;
      readonly after: string;
    }
  | {
      readonly kind: 'rows-added' | 'rows-removed' | 'strings-added' | 'strings-removed';
      readonly pair: string;
    }
  | { readonly kind: 'end'; readonly end: keyof Ends; readonly before: boolean; readonly after: boolean }
  | { readonly kind: 'colour-added' | 'colour-removed'; readonly colour: PaletteColour }
  | {
      readonly kind: 'colour';
      readonly id: string;
      readonly field: 'name' | 'hex';
      readonly before: string;
      readonly after: string;
    }
  | { readonly kind: 'palette-order' }
  | { readonly kind: 'title'; readonly before: string; readonly after: string }
  | { readonly kind: 'extent'; readonly before: Extent; readonly after: Extent }
  | {
      readonly kind: 'piece';
      readonly field: PieceField;
      readonly before: string | number | null;
      readonly after: string | number | null;
    }
  | {
      readonly kind: 'gauge';
      readonly field: keyof Gauge;
      readonly before: string | number | null;
      readonly after: string | number | null;
    }
  | {
      readonly kind: 'supply';
      /** Key of what is said of a thread or a part, by `readSupplyKey`. */
      readonly field: string;
      readonly before: string | number | null;
      readonly after: string | number | null;
    }
  | { readonly kind: 'colourway-added' | 'colourway-removed'; readonly colourway: Colourway }
  | {
      readonly kind: 'colourway';
      readonly id: string;
      readonly before: ColourwayHead;
      readonly after: ColourwayHead;
    }
  | {
      readonly kind: 'colourway-colour';
      readonly id: string;
      readonly colour: string;
      readonly before: Shade | null;
      readonly after: Shade | null;
    };

/**
 * Where two sides cannot both be had. `both-changed`: the same thing, differently; `theirs-removed`: they removed what we
 * changed or use; `ours-removed`: we removed what they changed or use.
 */
export interface Conflict {
  readonly why: 'both-changed' | 'theirs-removed' | 'ours-removed';
  /** What choosing theirs does to ours; the first is what the conflict is about. Choosing ours does nothing. */
  readonly changes: readonly [Change, ...Change[]];
}

/** A key of a change, the same for equal places: no list of changes has one twice. */
export function changeKey(change: Change): string {
  switch (change.kind) {
    case 'knot':
      return `knot ${change.address.rowPair} ${change.address.stringPair} ${change.address.half}`;
    case 'string-colour':
      return `string-colour ${change.address.stringPair} ${change.address.side}`;
    case 'rows-added':
    case 'rows-removed':
    case 'strings-added':
    case 'strings-removed':
      return `${change.kind} ${change.pair}`;
    case 'end':
      return `end ${change.end}`;
    case 'colour-added':
    case 'colour-removed':
      return `${change.kind} ${change.colour.id}`;
    case 'colour':
      return `colour ${change.field} ${change.id}`;
    case 'piece':
    case 'gauge':
    case 'supply':
      return `${change.kind} ${change.field}`;
    case 'colourway-added':
    case 'colourway-removed':
      return `${change.kind} ${change.colourway.id}`;
    case 'colourway':
      return `colourway ${change.id}`;
    case 'colourway-colour':
      return `colourway-colour ${JSON.stringify([change.id, change.colour])}`;
    case 'pattern':
    case 'palette-order':
    case 'title':
    case 'extent':
      return change.kind;
  }
}

/**
 * The keys of those among `all` that a change cannot be taken without: a colour that is used, or that no string may
 * have any more when it goes.
 * @param ours what the changes are applied to
 * @param theirs where they come from
 */
export function neededBy(
  change: Change,
  all: readonly Change[],
  ours: KeyedDesign,
  theirs: KeyedDesign,
): readonly string[] {
  if (change.kind === 'colour-removed') {
    const { id } = change.colour;
    return all.filter((other) => isLeaving(other, id, ours)).map(changeKey);
  }
  const used = new Set(coloursUsedBy(change, theirs));
  if (used.size === 0) return [];
  return all.filter((other) => other.kind === 'colour-added' && used.has(other.colour.id)).map(changeKey);
}

function isLeaving(change: Change, colour: string, ours: KeyedDesign): boolean {
  switch (change.kind) {
    case 'string-colour':
      return change.before === colour;
    case 'strings-removed':
      return coloursOfPair(ours, change.pair).includes(colour);
    case 'pattern':
      return ours.ofPairs.includes(colour);
    default:
      return false;
  }
}

/** Ids of palette colours without which a change would name a colour that is not there. */
export function coloursUsedBy(change: Change, theirs: KeyedDesign): readonly string[] {
  switch (change.kind) {
    case 'string-colour':
      return [change.after];
    case 'strings-added':
      return coloursOfPair(theirs, change.pair);
    case 'pattern':
      return theirs.ofPairs;
    case 'colourway-added':
      return change.colourway.colours.map(({ id }) => id);
    case 'colourway-colour':
      return change.after === null ? [] : [change.colour];
    default:
      return [];
  }
}

/** Colours of the two strings of a pair; empty when the design lacks it. */
function coloursOfPair(keyed: KeyedDesign, pair: string): readonly string[] {
  const at = keyed.stringPairIds.indexOf(pair);
  return at < 0 ? [] : keyed.ofPairs.slice(at * 2, at * 2 + 2);
}
