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
    const [was, now, present] = [base, mine, into].map(boardOf);
    if (was !== now) mover.load();
    // What belongs to a board in whose place somebody put another one meanwhile is not for that one.
    else if (was === present) mover.run();
    else mover.refused.push('another board was put in the place of the one that was edited');
    return { commands: mover.commands, refused: mover.refused };
  } finally {
    for (const design of designs) design.dispose();
  }
}

/** The id of the board that a document shows; another one was loaded where it differs. */
function boardOf(doc: Y.Doc): string {
  return String(doc.getMap('meta').get('generation')).split('.')[0]!;
}

/** The part of a pair's id that names its pattern. Of strings there is always a pair; of rows all may be gone. */
function patternOf(snapshot: DesignSnapshot): string {
  return snapshot.stringPairIds[0]!.split('.')[0]!;
}

function indexOf(ids: readonly string[]): ReadonlyMap<string, number> {
  return new Map(ids.map((id, i) => [id, i]));
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

  /** The client opened a file: the last one counts as a whole. */
  load(): void {
    this.#run({ kind: 'load-board', board: this.#mine.snapshot.board });
  }

  run(): void {
    const was = this.#base.snapshot;
    const now = this.#mine.snapshot;
    this.#palette(was.board, now.board);
    if (patternOf(was) !== patternOf(now)) this.#replacePattern(now.board);
    else if (patternOf(was) === patternOf(this.#into.snapshot)) {
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

  /** The client laid another pattern: it counts as a whole, with the colours it needs. */
  #replacePattern({ palette, pattern }: Board): void {
    const there = new Set(this.#into.snapshot.board.palette.map(({ id }) => id));
    const used = new Set(pattern.colours);
    for (const { id, name, hex } of palette)
      if (used.has(id) && !there.has(id)) this.#run({ kind: 'add-colour', id, name, hex });
    this.#run({ kind: 'replace-pattern', pattern });
  }

  #idOf(id: string): string {
    return this.#became.get(id) ?? id;
  }

  #pairs(what: 'row' | 'string', was: readonly string[], now: readonly string[]): void {
    const present = (): readonly string[] =>
      what === 'row' ? this.#into.snapshot.rowPairIds : this.#into.snapshot.stringPairIds;
    const old = new Set(was);
    let index = indexOf(present());
    let at = 0;
    for (let i = 0; i < now.length; ) {
      const from = i;
      while (i < now.length && !old.has(now[i]!)) i += 1;
      if (i > from) {
        at = this.#insert(what, at, now.slice(from, i), present);
        index = indexOf(present());
        continue;
      }
      // A pair that somebody deleted meanwhile: what follows goes behind the one before.
      at = (index.get(now[i]!) ?? at - 1) + 1;
      i += 1;
    }
    const kept = new Set(now);
    this.#remove(what, new Set(was.filter((id) => !kept.has(id))), present);
  }

  /** Puts in pairs that the client made: all at once, or those for which there is room. @returns the place behind them */
  #insert(
    what: 'row' | 'string',
    at: number,
    ids: readonly string[],
    present: () => readonly string[],
  ): number {
    const count = ids.length;
    const made =
      what === 'row'
        ? this.#run({ kind: 'insert-row-pairs', at, count })
        : this.#run({ kind: 'insert-string-pairs', at, count });
    if (!made) return count === 1 ? at : ids.reduce((to, id) => this.#insert(what, to, [id], present), at);
    const news = present();
    for (const [i, id] of ids.entries()) this.#became.set(id, news[at + i]!);
    return at + count;
  }

  /** Takes out pairs that the client deleted: neighbours at once, or those that may go. */
  #remove(what: 'row' | 'string', gone: ReadonlySet<string>, present: () => readonly string[]): void {
    const take = (from: number, count: number): void => {
      const isDone =
        what === 'row'
          ? this.#run({ kind: 'delete-row-pairs', from, count })
          : this.#run({ kind: 'delete-string-pairs', from, count });
      if (!isDone && count > 1) for (let i = count - 1; i >= 0; i -= 1) take(from + i, 1);
    };
    const ids = present();
    for (let end = ids.length; end > 0; ) {
      let begin = end;
      while (begin > 0 && gone.has(ids[begin - 1]!)) begin -= 1;
      if (begin < end) take(begin, end - begin);
      end = begin - 1;
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
