/**
 * Brings edits made on a former generation of a design into the present one. The two documents share no history, so the
 * edits are not merged but repeated: what differs between the former document as it ended and the same with the client's
 * edits becomes commands on the present document. Ids of pairs and colours are the same in both, so each knot finds its place.
 */
import type * as Y from 'yjs';
import {
  type Command,
  type CommandResult,
  Design,
  type DesignSnapshot,
  type IdSource,
  type KnotAddress,
} from '../../engine/document/index.ts';
import {
  type Board,
  type Colourway,
  type KnotCode,
  knotAt,
  knotsInRow,
  rowParity,
} from '../../engine/index.ts';

export interface BringOverResult {
  /** Commands run. */
  readonly commands: number;
  /** Why some could not be, such as a limit reached meanwhile. */
  readonly refused: readonly string[];
}

/**
 * @param base the former document as it was when it ended
 * @param mine the same with the client's edits
 * @param into the present document; the only one changed
 * O(knots of the board).
 */
export function bringOver(base: Y.Doc, mine: Y.Doc, into: Y.Doc, newId: IdSource): BringOverResult {
  const options = { makerId: 'bring-over', newId, captureMs: 0 };
  const designs = [new Design(base, options), new Design(mine, options), new Design(into, options)] as const;
  try {
    const mover = new Mover(...designs);
    mover.run();
    return { commands: mover.commands, refused: mover.refused };
  } finally {
    for (const design of designs) design.dispose();
  }
}

/** The part of a pair's id that names its pattern. */
function patternOf(snapshot: DesignSnapshot): string {
  return snapshot.rowPairIds[0]?.split('.')[0] ?? '';
}

class Mover {
  readonly #base: Design;
  readonly #mine: Design;
  readonly #into: Design;
  /** Ids of pairs the client made, and what they became. */
  readonly #became = new Map<string, string>();
  readonly refused: string[] = [];
  commands = 0;

  constructor(base: Design, mine: Design, into: Design) {
    this.#base = base;
    this.#mine = mine;
    this.#into = into;
  }

  run(): void {
    const was = this.#base.snapshot;
    const now = this.#mine.snapshot;
    if (patternOf(was) !== patternOf(now)) {
      // The client laid another pattern or opened a file: the last one counts as a whole.
      this.#run({ kind: 'load-board', board: now.board });
      return;
    }
    this.#palette(was.board, now.board);
    if (patternOf(was) === patternOf(this.#into.snapshot)) {
      this.#pairs('row', was.rowPairIds, now.rowPairIds);
      this.#pairs('string', was.stringPairIds, now.stringPairIds);
      this.#ends(was.board, now.board);
      this.#strings(was.board, now.board);
      this.#knots(now.board);
    }
    this.#rest(was.board, now.board);
  }

  #run(command: Command): boolean {
    this.commands += 1;
    const result: CommandResult = this.#into.run(command);
    if (!result.ok) this.refused.push(`${command.kind}: ${result.error.message}`);
    return result.ok;
  }

  #idOf(id: string): string {
    return this.#became.get(id) ?? id;
  }

  #pairs(what: 'row' | 'string', was: readonly string[], now: readonly string[]): void {
    const present = (): readonly string[] =>
      what === 'row' ? this.#into.snapshot.rowPairIds : this.#into.snapshot.stringPairIds;
    const kept = new Set(now);
    const old = new Set(was);
    let at = 0;
    for (const id of now) {
      if (!old.has(id)) {
        const made =
          what === 'row'
            ? this.#run({ kind: 'insert-row-pairs', at, count: 1 })
            : this.#run({ kind: 'insert-string-pairs', at, count: 1 });
        const newId = present()[at];
        if (made && newId !== undefined) this.#became.set(id, newId);
      }
      const index = present().indexOf(this.#idOf(id));
      // A pair that somebody deleted meanwhile: what follows goes behind the one before.
      if (index >= 0) at = index + 1;
    }
    for (const id of was) {
      const from = kept.has(id) ? -1 : present().indexOf(id);
      if (from < 0) continue;
      if (what === 'row') this.#run({ kind: 'delete-row-pairs', from, count: 1 });
      else this.#run({ kind: 'delete-string-pairs', from, count: 1 });
    }
  }

  #ends(was: Board, now: Board): void {
    const ends = ({ pattern }: Board) => ({
      firstHidden: pattern.start === 1,
      lastHidden: ((pattern.start + pattern.rows) & 1) === 1,
      loneString: (pattern.colours.length & 1) === 1,
    });
    const [before, after] = [ends(was), ends(now)];
    const changed = (['firstHidden', 'lastHidden', 'loneString'] as const).filter(
      (name) => before[name] !== after[name],
    );
    if (changed.length > 0)
      this.#run({ kind: 'set-ends', ...Object.fromEntries(changed.map((name) => [name, after[name]])) });
  }

  #palette(was: Board, now: Board): void {
    const before = new Map(was.palette.map((colour) => [colour.id, colour]));
    const after = new Map(now.palette.map((colour) => [colour.id, colour]));
    for (const { id, name, hex } of now.palette) {
      const known = before.get(id);
      if (!known) this.#run({ kind: 'add-colour', id, name, hex });
      else if (known.name !== name || known.hex !== hex) this.#run({ kind: 'edit-colour', id, name, hex });
    }
    const stays = now.palette[0]?.id;
    for (const { id } of was.palette) {
      const isThere = this.#into.snapshot.board.palette.some((colour) => colour.id === id);
      if (stays !== undefined && isThere && !after.has(id))
        this.#run({ kind: 'remove-colour', id, replaceWith: stays });
    }
    const order = (board: Board): string => board.palette.map((colour) => colour.id).join(' ');
    if (order(was) === order(now)) return;
    now.palette.forEach(({ id }, to) => {
      const there = this.#into.snapshot.board.palette;
      if (to < there.length && there[to]?.id !== id && there.some((colour) => colour.id === id))
        this.#run({ kind: 'move-colour', id, to });
    });
  }

  #strings(was: Board, now: Board): void {
    now.pattern.colours.forEach((colour, string) => {
      const address = this.#mine.stringAddressOf(string);
      if (address === null) return;
      const before = this.#base.stringOf(address);
      const isNew = this.#became.has(address.stringPair);
      if (!isNew && before !== null && was.pattern.colours[before] === colour) return;
      const place = this.#into.stringOf({ ...address, stringPair: this.#idOf(address.stringPair) });
      if (place !== null && this.#into.snapshot.board.pattern.colours[place] !== colour)
        this.#run({ kind: 'recolour-strings', strings: [place], colour });
    });
  }

  #knots({ pattern }: Board): void {
    const changed: { row: number; k: number; knot: KnotCode }[] = [];
    const basePattern = this.#base.snapshot.board.pattern;
    for (let row = 0; row < pattern.rows; row += 1) {
      const count = knotsInRow(pattern.colours.length, rowParity(pattern.start, row));
      for (let k = 0; k < count; k += 1) {
        const knot = knotAt(pattern, row, k);
        const address = this.#mine.addressOf(row, k);
        if (address === null) continue;
        const before = this.#base.placeOf(address);
        const old = before === null ? 0 : knotAt(basePattern, before.row, before.k);
        if (old === knot) continue;
        const place = this.#into.placeOf(this.#addressNow(address));
        if (place !== null) changed.push({ row: place.row, k: place.k, knot });
      }
    }
    if (changed.length > 0) this.#run({ kind: 'set-knots', knots: changed });
  }

  #addressNow(address: KnotAddress): KnotAddress {
    return {
      rowPair: this.#idOf(address.rowPair),
      stringPair: this.#idOf(address.stringPair),
      half: address.half,
    };
  }

  #rest(was: Board, now: Board): void {
    if (was.title !== now.title) this.#run({ kind: 'set-title', title: now.title });
    const piece = changes(was.piece, now.piece);
    if (piece !== null) this.#run({ kind: 'set-piece', patch: piece });
    const gauge = changes(was.gauge, now.gauge);
    if (gauge !== null) this.#run({ kind: 'set-gauge', patch: gauge });
    const before = new Map(was.colourways.map((colourway) => [colourway.id, colourway]));
    for (const mine of now.colourways) {
      const base = before.get(mine.id);
      if (JSON.stringify(base) === JSON.stringify(mine)) continue;
      const present = this.#into.snapshot.board.colourways.find(({ id }) => id === mine.id);
      const colourway = base && present ? carried(base, mine, present) : mine;
      this.#run({ kind: 'put-colourway', colourway });
    }
    const after = new Set(now.colourways.map(({ id }) => id));
    for (const { id } of was.colourways)
      if (!after.has(id) && this.#into.snapshot.board.colourways.some((colourway) => colourway.id === id))
        this.#run({ kind: 'remove-colourway', id });
  }
}

/** The present colourway with what differs between the former one and the client's: what others did to it meanwhile stays. */
function carried(was: Colourway, mine: Colourway, present: Colourway): Colourway {
  const colours = new Map(present.colours.map((colour) => [colour.id, colour]));
  const before = new Map(was.colours.map((colour) => [colour.id, colour]));
  const after = new Map(mine.colours.map((colour) => [colour.id, colour]));
  for (const { id } of was.colours) if (!after.has(id)) colours.delete(id);
  for (const colour of mine.colours) {
    const old = before.get(colour.id);
    const there = colours.get(colour.id) ?? colour;
    if (old === undefined) colours.set(colour.id, colour);
    else if (old.hex !== colour.hex || old.name !== colour.name)
      colours.set(colour.id, {
        id: colour.id,
        hex: old.hex === colour.hex ? there.hex : colour.hex,
        name: old.name === colour.name ? there.name : colour.name,
      });
  }
  const isGiven = JSON.stringify(was.maker) !== JSON.stringify(mine.maker);
  const maker = isGiven ? mine.maker : present.maker;
  return {
    id: mine.id,
    name: was.name === mine.name ? present.name : mine.name,
    ...(maker === undefined ? {} : { maker }),
    colours: [...colours.values()],
  };
}

/** What to set, and (null) to unset, to get from one to the other; null when they are equal. */
function changes<T extends object>(was: T, now: T): { [K in keyof T]?: T[K] | null } | null {
  const patch: { [K in keyof T]?: T[K] | null } = {};
  for (const key of Object.keys(now) as (keyof T)[]) if (was[key] !== now[key]) patch[key] = now[key];
  for (const key of Object.keys(was) as (keyof T)[]) if (!(key in now)) patch[key] = null;
  return Object.keys(patch).length > 0 ? patch : null;
}
