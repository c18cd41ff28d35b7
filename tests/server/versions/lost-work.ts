/**
 * Makers who tie, and wipe what others tied, at once or knot by knot, on nodes that are killed; and what must be in a version for it: whatever of
 * another had stood ten seconds when an edit took it, if that edit is on the disk in the end.
 */
import * as Y from 'yjs';
import { loadBoard } from '../../../engine/document/index.ts';
import type { KnotCode } from '../../../engine/pattern/index.ts';
import type { Room } from '../../../server/sync/room.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { type SeededRandom, seededRandom } from '../../support/seeded-random.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { docOf, type Knots, knotsOf, Maker, type Node, SharedRooms } from './shared-rooms.ts';

const STOOD_MS = 10_000;
const PEOPLE = ['ada', 'bea', 'cleo'];

/** What an edit took of others. */
interface Taken {
  readonly room: Room;
  readonly by: string;
  readonly knots: Knots;
  readonly update: Uint8Array;
}

/** What came to a room since it was opened. */
interface Arrivals {
  /** How far it reached, and what was shown, when it was last looked at. */
  vector: Map<number, number>;
  knots: Knots;
  /** When items came, and when knots were last shown that were not. */
  readonly at: Map<string, number>;
  readonly shownAt: Map<string, number>;
}

export interface Outcome {
  /** Edits that took others' work, and are on the disk. */
  readonly owed: number;
  /** Of what they took, what no version holds. */
  readonly lost: readonly string[];
  readonly kills: number;
  readonly versions: number;
  readonly unsaved: number;
}

export class LostWork {
  readonly #world = new SharedRooms();
  readonly #random: SeededRandom;
  readonly #nodes: Node[] = [];
  readonly #makers: Maker[] = [];
  /** Who writes under which client ids. */
  readonly #personOf = new Map<number, string>();
  /** When items first came to any node. */
  readonly #came = new Map<string, number>();
  readonly #arrivals = new Map<Room, Arrivals>();
  #taken: Taken[] = [];
  /** Knots that somebody goes on to clear, one at a time. */
  readonly #clearing = new Map<Maker, number>();
  #before: { readonly doc: Y.Doc; readonly vector: Map<number, number> } | null = null;
  #kills = 0;
  #nextClient = 100;

  constructor(seed: number) {
    this.#random = seededRandom(seed);
  }

  async run(steps: number): Promise<Outcome> {
    await this.#world.begin(sampleBoard(8, 8));
    this.#nodes.push(this.#world.node(), this.#world.node());
    for (const person of PEOPLE) await this.#come(person);
    for (let step = 0; step < steps; step += 1) await this.#step();
    return this.#end();
  }

  async #come(person: string): Promise<void> {
    const maker = new Maker(person, () => this.#nextClient++);
    maker.onComing = (room) => this.#look(room);
    maker.onCame = (room) => this.#compare(room, maker);
    this.#makers.push(maker);
    await this.#join(maker);
  }

  async #join(maker: Maker): Promise<void> {
    this.#personOf.set(maker.doc.clientID, maker.personId);
    await maker.come(this.#random.pick(this.#nodes));
  }

  // --- what is owed ---

  /** Notes what has come to a room, from here or from another node. */
  #noteArrivals(room: Room, doc: Y.Doc): void {
    const vector = Y.decodeStateVector(Y.encodeStateVector(doc));
    const knots = knotsOf(doc);
    const known = this.#arrivals.get(room);
    if (known === undefined) {
      this.#arrivals.set(room, { vector, knots, at: new Map(), shownAt: new Map() });
      return;
    }
    const now = this.#world.clock.now();
    for (const [client, end] of vector)
      for (let clock = known.vector.get(client) ?? 0; clock < end; clock += 1)
        known.at.set(nameOf({ client, clock }), now);
    // What was hidden stands anew once it is shown.
    for (const [place, knot] of knots) if (known.knots.get(place) !== knot) known.shownAt.set(place, now);
    known.vector = vector;
    known.knots = knots;
  }

  #look(room: Room): void {
    const doc = docOf(room.held.updates);
    this.#noteArrivals(room, doc);
    this.#before = { doc, vector: Y.decodeStateVector(Y.encodeStateVector(doc)) };
  }

  #compare(room: Room, maker: Maker): void {
    const { doc: before, vector } = this.#before!;
    const now = this.#world.clock.now();
    const after = docOf(room.held.updates);
    const update = Y.encodeStateAsUpdate(after, Y.encodeStateVector(before));
    const [was, is] = [knotsOf(before), knotsOf(after)];
    const taken = new Map<string, number>();
    for (const [place, knot] of was) {
      if (is.get(place) === knot) continue;
      const id = itemOf(before, place);
      const isOwn = this.#personOf.get(id.client) === maker.personId;
      const arrivals = this.#arrivals.get(room)!;
      const came = arrivals.at.get(nameOf(id)) ?? this.#came.get(nameOf(id)) ?? now;
      const since = Math.max(came, arrivals.shownAt.get(place) ?? 0);
      if (!isOwn && now - since >= STOOD_MS) taken.set(place, knot);
    }
    this.#noteArrivals(room, after);
    if (taken.size > 0)
      this.#taken.push({
        by: maker.personId,
        knots: taken,
        update,
        room,
      });
    for (const [client, end] of Y.decodeStateVector(Y.encodeStateVector(after)))
      for (let clock = vector.get(client) ?? 0; clock < end; clock += 1) {
        const name = nameOf({ client, clock });
        if (!this.#came.has(name)) this.#came.set(name, now);
      }
  }

  /** Forgets what no node and no disk holds any more. */
  async #forgetUnsaved(killed: Node): Promise<void> {
    const held = new Map<number, number>();
    const disk = await this.#world.stored();
    // Whoever made an edit that was not stored comes back with it, and it is looked at again.
    this.#taken = this.#taken.filter(({ room, update }) => !killed.has(room) || holds(disk, update));
    const docs = [disk];
    for (const { room } of this.#makers) if (room !== null) docs.push(docOf(room.held.updates));
    for (const doc of docs)
      for (const [client, end] of Y.decodeStateVector(Y.encodeStateVector(doc)))
        held.set(client, Math.max(end, held.get(client) ?? 0));
    for (const key of [...this.#came.keys()]) {
      const [client, clock] = key.split(':').map(Number) as [number, number];
      if (clock >= (held.get(client) ?? 0)) this.#came.delete(key);
    }
  }

  // --- what happens ---

  async #step(): Promise<void> {
    const random = this.#random;
    const maker = random.pick(this.#makers);
    const dice = random.next();
    if (dice < 0.03) await this.#kill();
    else if (dice < 0.08) await this.#goAway(maker);
    else if (maker.room === null) await this.#join(maker);
    else this.#act(maker, dice);
    for (const [clearer, left] of this.#clearing) {
      this.#clearOne(clearer);
      if (left <= 1) this.#clearing.delete(clearer);
      else this.#clearing.set(clearer, left - 1);
    }
    const wait = random.next();
    this.#world.clock.turn(wait < 0.9 ? 100 + random.below(2_000) : wait < 0.99 ? 12_000 : 31 * 60_000);
    await turnsOfTheLoop(random.below(12));
    for (const room of new Set(this.#makers.map((one) => one.room)))
      if (room !== null) this.#noteArrivals(room, docOf(room.held.updates));
  }

  #act(maker: Maker, dice: number): void {
    const random = this.#random;
    if (maker.design.state.kind !== 'ready') return;
    if (dice < 0.16) maker.isSlow = !maker.isSlow;
    else if (dice < 0.22) this.#clearing.set(maker, 5 + random.below(15));
    else if (dice < 0.27) this.#clearAll(maker);
    else if (dice < 0.31) maker.design.run({ kind: 'delete-row-pairs', from: random.below(3), count: 1 });
    else if (dice < 0.35) maker.design.run({ kind: 'insert-row-pairs', at: random.below(3), count: 1 });
    else if (dice < 0.36) maker.design.run(loadBoard(sampleBoard(8, 8)));
    else if (dice < 0.37) maker.design.run({ kind: 'replace-pattern', pattern: sampleBoard(8, 6).pattern });
    else if (dice < 0.42) maker.design.undo();
    else if (dice < 0.44) maker.design.run({ kind: 'set-title', title: `title ${random.below(100)}` });
    else this.#tie(maker);
    if (!maker.isSlow) maker.listen();
  }

  #tie(maker: Maker): void {
    const { rows } = maker.design.snapshot.board.pattern;
    if (rows === 0) return;
    const knots = Array.from({ length: 1 + this.#random.below(4) }, () => {
      const row = this.#random.below(rows);
      const k = this.#random.below(4 - (row & 1));
      return { row, k, knot: (1 + this.#random.below(4)) as KnotCode };
    });
    maker.tie(knots);
  }

  /** Of what is tied: its places as rows and columns. */
  #tied(maker: Maker): { row: number; k: number; knot: KnotCode }[] {
    const { pattern } = maker.design.snapshot.board;
    const tied: { row: number; k: number; knot: KnotCode }[] = [];
    for (let row = 0; row < pattern.rows; row += 1)
      for (let k = 0; k < 4 - (row & 1); k += 1)
        if (pattern.knots[row * 4 + k] !== 0) tied.push({ row, k, knot: 0 });
    return tied;
  }

  #clearAll(maker: Maker): void {
    const tied = this.#tied(maker);
    if (tied.length > 0) maker.tie(tied);
  }

  #clearOne(maker: Maker): void {
    if (maker.room === null || maker.design.state.kind !== 'ready') return;
    const tied = this.#tied(maker);
    if (tied.length > 0) maker.tie([this.#random.pick(tied)]);
  }

  async #goAway(maker: Maker): Promise<void> {
    if (maker.room === null) return;
    maker.leave();
    // A page that is closed holds nothing; one without a line is worked on.
    if (this.#random.chance(0.3)) {
      maker.reload();
      this.#personOf.set(maker.doc.clientID, maker.personId);
    } else if (maker.design.state.kind === 'ready') this.#tie(maker);
  }

  async #kill(): Promise<void> {
    const [killed] = this.#nodes.splice(this.#random.below(this.#nodes.length), 1);
    killed!.kill();
    this.#kills += 1;
    for (const maker of this.#makers) if (maker.room !== null && killed!.has(maker.room)) maker.isLeft();
    this.#nodes.push(this.#world.node());
    await this.#forgetUnsaved(killed!);
  }

  async #end(): Promise<Outcome> {
    for (const maker of this.#makers) {
      if (maker.room === null) await this.#join(maker);
      maker.listen();
    }
    const rooms = (): Room[] => this.#makers.map(({ room }) => room!);
    // Turns and further tries are due as the clock goes.
    await until('all is saved', () => {
      this.#world.clock.turn(50);
      return rooms().every(({ isSaved }) => isSaved);
    });
    const unsaved = this.#makers.filter(({ made, saved }) => saved < made).length;
    const disk = await this.#world.stored();
    const owed = this.#taken.filter(({ update }) => holds(disk, update));
    const versions = await this.#world.kept();
    const lost = owed
      .filter(
        ({ knots }) =>
          !versions.some((one) => [...knots].every(([place, knot]) => one.knots.get(place) === knot)),
      )
      .map(({ by, knots }) => `${by} took ${[...knots.keys()].join(' ')}`);

    for (const maker of this.#makers) maker.leave();
    return { owed: owed.length, lost, kills: this.#kills, versions: versions.length, unsaved };
  }
}

const nameOf = ({ client, clock }: Pick<Y.ID, 'client' | 'clock'>): string => `${client}:${clock}`;

/** The item that says which knot is tied: of its key, or the base, which is kept under the id of the pattern. */
function itemOf(doc: Y.Doc, place: string): Y.ID {
  const { _map: items } = doc.getMap('knots');
  return (items.get(place) ?? items.get(place.split('.')[0]!))!.lastId;
}

/** Whether a document holds all that an update brings and removes. */
function holds(doc: Y.Doc, update: Uint8Array): boolean {
  const { structs, ds } = Y.decodeUpdate(update);
  for (const { id, length } of structs)
    if (Y.getState(doc.store, id.client) < id.clock + length) return false;
  for (const [client, ranges] of ds.clients)
    for (const { clock, len } of ranges)
      for (let at = clock; at < clock + len; at += 1)
        if (Y.getState(doc.store, client) <= at || !Y.getItem(doc.store, Y.createID(client, at)).deleted)
          return false;
  return true;
}
