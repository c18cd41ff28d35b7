/** Where on the board, or beside it, what was lost is to be seen. */
import { addressOfKey, type Cell } from '../cells.ts';
import type { BareDesign as Design } from '../design.ts';
import type { ListPlace } from '../journal/index.ts';
import { localOf, readColourwayKey } from '../schema.ts';
import type { Lost } from './own-work.ts';

/** Where to look, the most telling first that there is. */
export type LostPlace =
  | { readonly kind: 'knots'; readonly knots: readonly Cell[] }
  | { readonly kind: 'row'; readonly row: number }
  | { readonly kind: 'strings'; readonly strings: readonly number[] }
  | { readonly kind: 'colourway'; readonly id: string }
  | { readonly kind: 'colours' | 'notes' | 'title' | 'versions' };

/** Where these are to be seen; null when there is nothing left to see. Rule D337. */
export function placeOfLost(design: Design, lost: readonly Lost[]): LostPlace | null {
  const knots = lost.flatMap((one) => knotOf(design, one) ?? []);
  if (knots.length > 0) return { kind: 'knots', knots };
  for (const one of lost) {
    const place = placeOf(design, one);
    if (place !== null) return place;
  }
  return null;
}

function knotOf(design: Design, { change }: Lost): Cell | null {
  const address = change.root === 'knots' ? addressOfKey(change.key) : null;
  return address === null ? null : design.placeOf(address);
}

function placeOf(design: Design, { isWhole, change }: Lost): LostPlace | null {
  if (isWhole) return { kind: 'versions' };
  const { pattern, colourways } = design.snapshot.board;
  const { root, key, before } = change;
  switch (root) {
    case 'rowPairs': {
      const row = Math.min((before as ListPlace).at * 2, pattern.rows - 1);
      return row < 0 ? null : { kind: 'row', row };
    }
    case 'stringPairs': {
      const string = Math.min((before as ListPlace).at * 2, pattern.colours.length - 1);
      return { kind: 'strings', strings: [string] };
    }
    case 'colours': {
      const stringPair = key.slice(0, -2);
      const known = localOf(stringPair.slice(0, stringPair.indexOf('.')), stringPair) !== null;
      const string = known ? design.stringOf({ stringPair, side: key.endsWith(':1') ? 1 : 0 }) : null;
      return string === null ? null : { kind: 'strings', strings: [string] };
    }
    case 'palette':
    case 'paletteOrder':
      return { kind: 'colours' };
    case 'colourways': {
      const board = /^\["([\w-]+)",/.exec(key)?.[1] ?? '';
      const id = readColourwayKey(board, key)?.colourway;
      return id !== undefined && colourways.some((one) => one.id === id) ? { kind: 'colourway', id } : null;
    }
    case 'meta':
      return { kind: key.endsWith('.title') ? 'title' : 'notes' };
    case 'knots':
      return null;
  }
}
