/** The texts of a design: where each is read, what writes it, and how long it may be. Rule D345. */
import {
  MAX_NAME_CHARACTERS,
  MAX_NOTES_CHARACTERS,
  MAX_TITLE_CHARACTERS,
  partValueKey,
  threadKey,
  threadValueKey,
} from '../../files/index.ts';
import { type Board, isOfAnother } from '../../pattern/index.ts';
import type { Command } from '../command.ts';
import { setPart, setThread } from '../prepare-supplies.ts';
import { colourwayKey, dressKey, type Roots, type Scope, scoped, supplyKey } from '../schema.ts';

/**
 * One text of a board: its title, its notes, the name of a colour, of a colourway, of one of a colourway's colours or of a line of parts,
 * the maker's number of a thread.
 */
export type TextPlace =
  | { readonly of: 'title' }
  | { readonly of: 'notes' }
  | { readonly of: 'colour'; readonly id: string }
  | { readonly of: 'colourway'; readonly id: string }
  | { readonly of: 'dress'; readonly id: string; readonly colour: string }
  | { readonly of: 'thread'; readonly hex: string; readonly name: string }
  | { readonly of: 'part'; readonly id: string };

/** What it is called among the texts of its board. */
export function placeName(place: TextPlace): string {
  return JSON.stringify(Object.values(place));
}

/** The most UTF-16 units that it may have. */
export function mostUnits({ of }: TextPlace): number {
  return of === 'title' ? MAX_TITLE_CHARACTERS : of === 'notes' ? MAX_NOTES_CHARACTERS : MAX_NAME_CHARACTERS;
}

/** The text as it stands; null where there is no such thing. */
export function readText(
  { title, piece, palette, colourways, supplies }: Board,
  place: TextPlace,
): string | null {
  switch (place.of) {
    case 'title':
      return title;
    case 'notes':
      return piece.notes ?? '';
    case 'colour':
      return palette.find(({ id }) => id === place.id)?.name ?? null;
    case 'colourway':
      return colourways.find(({ id }) => id === place.id)?.name ?? null;
    case 'dress': {
      const colours = colourways.find(({ id }) => id === place.id)?.colours;
      const own = colours?.find(({ id }) => id === place.colour);
      return own === undefined ? null : isOfAnother(palette, own) ? '' : own.name;
    }
    case 'thread':
      return supplies?.threads.find((one) => threadKey(one) === threadKey(place))?.number ?? '';
    case 'part': {
      const part = supplies?.parts.find(({ id }) => id === place.id);
      return part === undefined ? null : (part.name ?? '');
    }
  }
}

/** Whether a text is the name of another colour of the board, which a thread that looks otherwise cannot go by. Rule E1. */
export function isTaken({ palette, colourways }: Board, place: TextPlace, text: string): boolean {
  if (place.of !== 'dress') return false;
  const colours = colourways.find(({ id }) => id === place.id)?.colours;
  const own = colours?.find(({ id }) => id === place.colour);
  return own !== undefined && isOfAnother(palette, { ...own, name: text });
}

/** Whether a text is the name of another colour of the palette as well, for whoever reads them. Rule D410. */
export function isAlike({ palette }: Board, place: TextPlace, text: string): boolean {
  if (place.of !== 'colour') return false;
  const name = plainName(text);
  return palette.some((colour) => colour.id !== place.id && plainName(colour.name) === name);
}

function plainName(name: string): string {
  return name.normalize('NFKC').trim().toLowerCase();
}

/** What writes it; null where there is no such thing. Of a colourway all else stays as the board has it now. */
export function textCommand({ colourways }: Board, place: TextPlace, text: string): Command | null {
  switch (place.of) {
    case 'title':
      return { kind: 'set-title', title: text };
    case 'notes':
      return { kind: 'set-piece', patch: { notes: text === '' ? null : text } };
    case 'colour':
      return { kind: 'edit-colour', id: place.id, name: text };
    case 'colourway': {
      const colourway = colourways.find(({ id }) => id === place.id);
      return colourway === undefined
        ? null
        : { kind: 'put-colourway', colourway: { ...colourway, name: text } };
    }
    case 'dress': {
      const colourway = colourways.find(({ id }) => id === place.id);
      if (colourway === undefined) return null;
      const colours = colourway.colours.map((colour) =>
        colour.id === place.colour ? { ...colour, name: text } : colour,
      );
      return { kind: 'put-colourway', colourway: { ...colourway, colours } };
    }
    case 'thread': {
      const { hex, name } = place;
      return setThread({ hex, name }, { number: text === '' ? null : text });
    }
    case 'part':
      return setPart(place.id, { name: text === '' ? null : text });
  }
}

/** The map and the key under which it is kept. */
export function textKey(roots: Roots, { board }: Scope, place: TextPlace): readonly [Roots['meta'], string] {
  switch (place.of) {
    case 'title':
      return [roots.meta, scoped(board, 'title')];
    case 'notes':
      return [roots.meta, scoped(board, 'piece.notes')];
    case 'colour':
      return [roots.palette, scoped(board, `${place.id}:name`)];
    case 'colourway':
      return [roots.colourways, colourwayKey(board, place.id, 'name')];
    case 'dress':
      return [roots.colourways, dressKey(board, place.id, place.colour, 'name')];
    case 'thread':
      return [roots.meta, supplyKey(board, threadValueKey(place, 'number'))];
    case 'part':
      return [roots.meta, supplyKey(board, partValueKey(place.id, 'name'))];
  }
}
