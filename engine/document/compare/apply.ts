/**
 * Applies changes to a design as plain data. Comparing goes by ids; applying works out the whole design first, and `prepare-apply.ts` then
 * writes what makes the document read as that. So what was only hidden by something else (the colour of a removed palette entry, a
 * second value) cannot come to light by accident.
 */
import {
  gatherSupplies,
  MAX_COLOURS,
  MAX_COLOURWAYS,
  MAX_THREADS,
  type SupplyValue,
  supplyValues,
} from '../../files/index.ts';
import {
  type Board,
  type Colourway,
  MAX_ROWS,
  MAX_STRINGS,
  MIN_STRINGS,
  type PaletteColour,
} from '../../pattern/index.ts';
import type { CommandError } from '../command.ts';
import { refuse } from '../write-set.ts';
import { type Change, changeKey } from './change.ts';
import { type KeyedDesign, shownPattern } from './keyed.ts';
import { headOf } from './merge.ts';
import { placeInto } from './order.ts';

/** A design with the changes, or why there is none. `path` names the change at fault, as `changes[3]`. */
export type Applied =
  | { readonly ok: true; readonly value: KeyedDesign }
  | {
      readonly ok: false;
      readonly error: CommandError;
    };

/**
 * What `ours` becomes with some of the changes that lead from it to `theirs`. Nothing else of it changes, save what
 * cannot stay: strings of a removed colour get what replaces it, and a lead-in ends with the rows.
 * @param changes of `mergeDesigns(base, ours, theirs)`, those of chosen conflicts included; one twice counts once
 * O(ours + theirs). Rules D138 to D141.
 */
export function applyChanges(ours: KeyedDesign, changes: readonly Change[], theirs: KeyedDesign): Applied {
  const work = new Work(ours, theirs);
  const seen = new Set<string>();
  for (const [i, change] of changes.entries()) {
    const key = changeKey(change);
    if (seen.has(key)) continue;
    seen.add(key);
    const fault = work.note(change);
    if (fault !== null)
      return { ok: false, error: { kind: 'out-of-range', path: `changes[${i}]`, message: fault } };
  }
  return work.finish(seen);
}

class Work {
  readonly #ours: KeyedDesign;
  readonly #theirs: KeyedDesign;
  #title: string;
  readonly #piece: Record<string, unknown>;
  readonly #gauge: Record<string, unknown>;
  readonly #supplies: Map<string, SupplyValue>;
  readonly #ends: { -readonly [K in keyof KeyedDesign['ends']]: boolean };
  readonly #palette: Map<string, PaletteColour>;
  readonly #colourways: Map<string, Colourway>;
  readonly #present: PairSets;
  readonly #offered: PairSets;
  readonly #added = {
    rows: new Set<string>(),
    strings: new Set<string>(),
    colours: new Set<string>(),
    colourways: new Set<string>(),
  };
  readonly #removed = { rows: new Set<string>(), strings: new Set<string>() };
  readonly #knots: Extract<Change, { kind: 'knot' }>[] = [];
  readonly #colours: Extract<Change, { kind: 'string-colour' }>[] = [];
  readonly #headed = new Set<string>();

  constructor(ours: KeyedDesign, theirs: KeyedDesign) {
    this.#ours = ours;
    this.#theirs = theirs;
    this.#present = pairSets(ours);
    this.#offered = pairSets(theirs);
    const { board } = ours;
    this.#title = board.title;
    this.#piece = { ...board.piece };
    this.#gauge = { ...board.gauge };
    this.#supplies = new Map(supplyValues(board.supplies));
    this.#ends = { ...ours.ends };
    this.#palette = new Map(board.palette.map((colour) => [colour.id, colour]));
    this.#colourways = new Map(board.colourways.map((one) => [one.id, one]));
  }

  /** Takes in one change; says what is wrong with it, or null. */
  note(change: Change): string | null {
    switch (change.kind) {
      case 'pattern':
      case 'palette-order':
        return null;
      case 'knot':
        this.#knots.push(change);
        return this.#lack('rows', change.address.rowPair) ?? this.#lack('strings', change.address.stringPair);
      case 'string-colour':
        this.#colours.push(change);
        return this.#lack('strings', change.address.stringPair);
      case 'rows-added':
      case 'strings-added': {
        const what = change.kind === 'rows-added' ? 'rows' : 'strings';
        this.#added[what].add(change.pair);
        if (this.#present[what].has(change.pair)) return `${change.pair} is there already`;
        return this.#offered[what].has(change.pair) ? null : `there is no ${change.pair} to take`;
      }
      case 'rows-removed':
        this.#removed.rows.add(change.pair);
        return this.#lack('rows', change.pair);
      case 'strings-removed':
        this.#removed.strings.add(change.pair);
        return this.#lack('strings', change.pair);
      case 'end':
        this.#ends[change.end] = change.after;
        return null;
      case 'title':
        this.#title = change.after;
        return null;
      case 'extent':
        delete this.#piece.repeats;
        delete this.#piece.lengthMm;
        Object.assign(this.#piece, change.after);
        return null;
      case 'piece':
        setField(this.#piece, change.field, change.after);
        return null;
      case 'gauge':
        setField(this.#gauge, change.field, change.after);
        return null;
      case 'supply':
        if (change.after === null) this.#supplies.delete(change.field);
        else this.#supplies.set(change.field, change.after);
        return null;
      default:
        return this.#noteColour(change);
    }
  }

  #lack(what: 'rows' | 'strings', pair: string): string | null {
    return this.#present[what].has(pair) ? null : `there is no ${pair}`;
  }

  #noteColour(change: ColourChange): string | null {
    switch (change.kind) {
      case 'colour-added':
        this.#added.colours.add(change.colour.id);
        this.#palette.set(change.colour.id, change.colour);
        return null;
      case 'colour-removed':
        this.#palette.delete(change.colour.id);
        return null;
      case 'colour': {
        const colour = this.#palette.get(change.id);
        if (colour === undefined) return `the palette has no ${change.id}`;
        this.#palette.set(change.id, { ...colour, [change.field]: change.after });
        return null;
      }
      case 'colourway-added':
        this.#added.colourways.add(change.colourway.id);
        this.#colourways.set(change.colourway.id, change.colourway);
        return null;
      case 'colourway-removed':
        this.#colourways.delete(change.colourway.id);
        return null;
      case 'colourway': {
        const present = this.#colourways.get(change.id);
        if (present === undefined) return `there is no colourway ${change.id}`;
        this.#headed.add(change.id);
        this.#colourways.set(change.id, { ...change.after, id: change.id, colours: present.colours });
        return null;
      }
      case 'colourway-colour': {
        const present = this.#colourways.get(change.id);
        if (present === undefined) return `there is no colourway ${change.id}`;
        const rest = present.colours.filter(({ id }) => id !== change.colour);
        const colours = change.after === null ? rest : replaced(present.colours, change.colour, change.after);
        this.#colourways.set(change.id, { ...present, colours });
        return null;
      }
    }
  }

  /** The whole, or what no board can be. */
  finish(taken: ReadonlySet<string>): Applied {
    const palette = this.#finishPalette(taken.has('palette-order'));
    if (palette.length > MAX_COLOURS)
      return refuse('limit', 'changes', { be: 'most-colours', most: MAX_COLOURS }, palette.length);
    const paired = taken.has('pattern') ? this.#theirs : this.#finishPairs();
    if (paired.stringPairIds.length === 0)
      return refuse('last-pair', 'changes', `a pattern has at least ${MIN_STRINGS} strings`);
    const known = new Set(palette.map(({ id }) => id));
    if (known.size === 0) return refuse('out-of-range', 'changes', 'no colour would be left');
    const ends = taken.has('pattern') ? this.#theirs.ends : this.#ends;
    const design: Omit<KeyedDesign, 'board'> = {
      patternId: paired.patternId,
      rowPairIds: paired.rowPairIds,
      stringPairIds: paired.stringPairIds,
      knots: paired.knots,
      ends: { ...ends, loneString: ends.loneString && paired.stringPairIds.length > 1 },
      ofPairs: paired.ofPairs.map((id) => this.#follow(id, known)),
      instead: { ...this.#ours.instead, ...this.#theirs.instead },
    };
    const pattern = shownPattern(design);
    if (pattern.colours.length > MAX_STRINGS)
      return refuse('limit', 'changes', { be: 'most-strings', most: MAX_STRINGS }, pattern.colours.length);
    if (pattern.rows > MAX_ROWS)
      return refuse('limit', 'changes', { be: 'most-rows', most: MAX_ROWS }, pattern.rows);
    const { leadInRows } = this.#piece;
    if (typeof leadInRows === 'number' && leadInRows > pattern.rows) this.#piece.leadInRows = pattern.rows;
    const colourways = this.#finishColourways(known);
    if (colourways.length > MAX_COLOURWAYS)
      return refuse('limit', 'changes', { be: 'most-colourways', most: MAX_COLOURWAYS }, colourways.length);
    const { supplies, beyond } = gatherSupplies(this.#supplies);
    if (beyond > 0)
      return refuse('limit', 'changes', { be: 'entries', least: 0, most: MAX_THREADS }, MAX_THREADS + beyond);
    const board: Board = {
      title: this.#title,
      palette,
      pattern,
      piece: this.#piece as Board['piece'],
      gauge: this.#gauge as Board['gauge'],
      colourways,
      ...(supplies === undefined ? {} : { supplies }),
    };
    return { ok: true, value: { ...design, board } };
  }

  #finishPalette(isTheirOrder: boolean): readonly PaletteColour[] {
    const ours = this.#ours.board.palette.map(({ id }) => id);
    const theirs = this.#theirs.board.palette.map(({ id }) => id);
    return ordered(ours, theirs, this.#palette, isTheirOrder).map((id) => this.#palette.get(id)!);
  }

  #finishColourways(known: ReadonlySet<string>): readonly Colourway[] {
    const ours = this.#ours.board.colourways;
    const theirs = this.#theirs.board.colourways;
    const order = ordered(ours.map(idOf), theirs.map(idOf), this.#colourways, false);
    return order.map((id) => {
      const one = this.#colourways.get(id)!;
      const present = new Map(one.colours.filter((colour) => known.has(colour.id)).map((c) => [c.id, c]));
      const their = theirs.find((other) => other.id === id)?.colours ?? [];
      const our = ours.find((other) => other.id === id)?.colours ?? [];
      const colours = ordered(our.map(idOf), their.map(idOf), present, this.#headed.has(id));
      return { ...headOf(one), id, colours: colours.map((colour) => present.get(colour)!) };
    });
  }

  /** What shows for a string whose colour may be gone. */
  #follow(colour: string, known: ReadonlySet<string>): string {
    const passed = new Set<string>();
    let id: string | undefined = colour;
    while (id !== undefined && !known.has(id) && !passed.has(id)) {
      passed.add(id);
      id = this.#theirs.instead[id] ?? this.#ours.instead[id];
    }
    return id !== undefined && known.has(id) ? id : [...known][0]!;
  }

  #finishPairs(): Pick<KeyedDesign, 'patternId' | 'rowPairIds' | 'stringPairIds' | 'ofPairs' | 'knots'> {
    const ours = this.#ours;
    const theirs = this.#theirs;
    const rowPairIds = placeInto(
      ours.rowPairIds.filter((id) => !this.#removed.rows.has(id)),
      theirs.rowPairIds,
      this.#added.rows,
    );
    const stringPairIds = placeInto(
      ours.stringPairIds.filter((id) => !this.#removed.strings.has(id)),
      theirs.stringPairIds,
      this.#added.strings,
    );
    const rows = new Map(rowPairIds.map((id, i) => [id, i]));
    const strings = new Map(stringPairIds.map((id, j) => [id, j]));
    const knots = new Uint8Array(rowPairIds.length * stringPairIds.length);
    const ofPairs: string[] = new Array(stringPairIds.length * 2);
    const isNew = { rows: this.#added.rows, strings: this.#added.strings };
    for (const from of [ours, theirs]) {
      const columns = from.stringPairIds.map((id) => strings.get(id) ?? -1);
      from.stringPairIds.forEach((id, j) => {
        if (columns[j]! < 0 || (from === theirs && !isNew.strings.has(id))) return;
        ofPairs[columns[j]! * 2] = from.ofPairs[j * 2]!;
        ofPairs[columns[j]! * 2 + 1] = from.ofPairs[j * 2 + 1]!;
      });
      from.rowPairIds.forEach((row, i) => {
        const to = rows.get(row);
        if (to === undefined) return;
        // Of theirs only what is in a new row or at a new string: the rest are changes of their own.
        const isWhole = from === ours || isNew.rows.has(row);
        for (let j = 0; j < columns.length; j++) {
          if (columns[j]! < 0 || !(isWhole || isNew.strings.has(from.stringPairIds[j]!))) continue;
          knots[to * stringPairIds.length + columns[j]!] = from.knots[i * columns.length + j]!;
        }
      });
    }
    for (const { address, after } of this.#colours) {
      const j = strings.get(address.stringPair);
      if (j !== undefined) ofPairs[j * 2 + address.side] = after;
    }
    for (const { address, after } of this.#knots) {
      const i = rows.get(address.rowPair);
      const j = strings.get(address.stringPair);
      // In a pair that is removed with it.
      if (i === undefined || j === undefined) continue;
      const at = i * stringPairIds.length + j;
      const byte = knots[at]!;
      knots[at] = address.half === 'inside' ? (byte & 0xf0) | after : (byte & 15) | (after << 4);
    }
    return { patternId: ours.patternId, rowPairIds, stringPairIds, ofPairs, knots };
  }
}

interface PairSets {
  readonly rows: ReadonlySet<string>;
  readonly strings: ReadonlySet<string>;
}

function pairSets({ rowPairIds, stringPairIds }: KeyedDesign): PairSets {
  return { rows: new Set(rowPairIds), strings: new Set(stringPairIds) };
}

type ColourChange = Extract<Change, { kind: `colour${string}` }>;

function idOf({ id }: { readonly id: string }): string {
  return id;
}

/** The ids of a table: in our order with theirs put in, or in theirs with ours put in. */
function ordered(
  ours: readonly string[],
  theirs: readonly string[],
  table: ReadonlyMap<string, unknown>,
  isTheirOrder: boolean,
): readonly string[] {
  const [lead, other] = isTheirOrder ? [theirs, ours] : [ours, theirs];
  return placeInto(
    lead.filter((id) => table.has(id)),
    other,
    new Set(table.keys()),
  );
}

function replaced(
  colours: Colourway['colours'],
  id: string,
  shade: { readonly name: string; readonly hex: string },
): Colourway['colours'] {
  const isThere = colours.some((colour) => colour.id === id);
  const next = { id, ...shade };
  return isThere ? colours.map((colour) => (colour.id === id ? next : colour)) : [...colours, next];
}

function setField(table: Record<string, unknown>, field: string, value: string | number | null): void {
  if (value === null) delete table[field];
  else table[field] = value;
}
