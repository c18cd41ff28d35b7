/** Reads the palette and the colours of the strings. */
import { MAX_COLOURS, MAX_ID_CHARACTERS, MAX_NAME_CHARACTERS } from '../files/index.ts';
import { type ColourId, type PaletteColour, plainText } from '../pattern/index.ts';
import type { Shape } from './read-lists.ts';
import type { RepairLog } from './repair.ts';
import { colourKey, type Roots, type Scope, scoped } from './schema.ts';
import { cutPlain, readHex, wellFormed } from './text.ts';

/** Stands in for a colour that cannot be read. */
const PLAIN_HEX = '#808080';
/** Id of the palette entry that stands in for an empty palette. */
const PLAIN_ID = 'plain';

export interface Colours {
  readonly palette: readonly PaletteColour[];
  /** Palette id of each string, those of a hidden lone string's neighbour included: two a pair. */
  readonly ofPairs: readonly ColourId[];
  /** Whether the palette is the stand-in, which the document does not hold. */
  readonly isStandIn: boolean;
}

/** Reads palette and colours of strings. Rules D20 to D25. */
export function readColours(roots: Roots, scope: Scope, shape: Shape, log: RepairLog): Colours {
  const { board } = scope;
  const listed = readOrder(roots, board, log);
  const wanted: unknown[] = [];
  for (const pair of shape.stringPairIds)
    for (const side of [0, 1] as const) wanted.push(readText(roots.colours.get(colourKey(pair, side))));

  const known = new Set(listed);
  // Only a colour in use comes back, and only when nobody said what replaces it: the maker who added it took it back.
  for (const id of new Set(wanted.map(followerOf(roots, board, known))))
    if (id !== null && !known.has(id) && known.size < MAX_COLOURS) {
      known.add(id);
      listed.push(id);
    }

  const isStandIn = listed.length === 0;
  if (isStandIn) {
    log.note('no-colours', 'paletteOrder');
    return {
      palette: [{ id: PLAIN_ID, name: '', hex: PLAIN_HEX }],
      ofPairs: wanted.map(() => PLAIN_ID),
      isStandIn,
    };
  }
  const palette = listed.map((id): PaletteColour => {
    const hex = readHex(roots.palette.get(scoped(board, `${id}:hex`)));
    const name = roots.palette.get(scoped(board, `${id}:name`));
    if (hex === null) log.note('hex-unreadable', `palette.${id}:hex`);
    return { id, name: readName(name, `palette.${id}:name`, log), hex: hex ?? PLAIN_HEX };
  });
  const follow = followerOf(roots, board, known);
  const ofPairs = wanted.map((value, i) => {
    const id = follow(value);
    if (id !== null && known.has(id)) return id;
    log.note('string-colour-unknown', `colours[${i}]`);
    return palette[0]!.id;
  });
  return { palette, ofPairs, isStandIn };
}

function readOrder(roots: Roots, board: string, log: RepairLog): ColourId[] {
  const listed: ColourId[] = [];
  const known = new Set<string>();
  for (const [i, entry] of roots.paletteOrder.toArray().entries()) {
    const at = `paletteOrder[${i}]`;
    const isOther = typeof entry === 'string' && !entry.startsWith(`${board}.`);
    if (isOther) continue;
    const id = typeof entry === 'string' ? wellFormed(entry.slice(board.length + 1)) : null;
    if (!isColourId(id)) log.note('colour-unreadable', at);
    else if (known.has(id)) log.note('colour-twice', at);
    else if (listed.length >= MAX_COLOURS) log.note('too-many-colours', at);
    else {
      known.add(id);
      listed.push(id);
    }
  }
  return listed;
}

/** Whether a value can be the id of a colour or colourway: 1 to 60 characters of plain text. */
export function isColourId(value: unknown): value is ColourId {
  return (
    typeof value === 'string' &&
    value.length >= 1 &&
    value.length <= MAX_ID_CHARACTERS &&
    plainText(value) === value
  );
}

/**
 * Finds the colour that a value stands for: itself when listed, else what its remover put in its place, else itself when
 * the palette still says how it looks. Null when none of these. Each step of a chain is taken once, however many values
 * lead into it: a peer can write a long one.
 */
function followerOf(
  roots: Roots,
  board: string,
  known: ReadonlySet<string>,
): (value: unknown) => ColourId | null {
  const found = new Map<string, ColourId | null>();
  return (value) => {
    const passed: string[] = [];
    let id = value;
    let end: ColourId | null = null;
    while (isColourId(id)) {
      if (known.has(id)) {
        end = id;
        break;
      }
      const before = found.get(id);
      if (before !== undefined) {
        end = before;
        break;
      }
      // Until its end is known; a chain that comes back here has none.
      found.set(id, null);
      passed.push(id);
      const next = readText(roots.palette.get(scoped(board, `${id}:instead`)));
      if (next === undefined) {
        end = readHex(roots.palette.get(scoped(board, `${id}:hex`))) === null ? null : id;
        break;
      }
      id = next;
    }
    for (const one of passed) found.set(one, end);
    return end;
  };
}

/** Text as a peer will read it; anything else as it is. */
function readText(value: unknown): unknown {
  return typeof value === 'string' ? wellFormed(value) : value;
}

/** A name as it is read: plain text, cut to its limit; anything else is no name. */
export function readName(value: unknown, path: string, log: RepairLog): string {
  if (typeof value !== 'string') {
    if (value !== undefined) log.note('name-unreadable', path);
    return '';
  }
  const name = cutPlain(value, MAX_NAME_CHARACTERS);
  // Half a pair is something else for every peer; of what they read nothing is mended.
  if (name !== wellFormed(value)) log.note('name-unreadable', path);
  return name;
}
