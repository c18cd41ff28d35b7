/** A script that a seed makes: guests who come, edit, show themselves, fall behind, do harm and leave, while the store and the lines between nodes fail. */
import * as Y from 'yjs';
import { Design, writeBoard } from '../../../engine/document/index.ts';
import type { KnotCode } from '../../../engine/index.ts';
import type { Pass } from '../../../server/authorize.ts';
import { COSTLY_UPDATES } from '../../support/costly-updates.ts';
import { anyStructs, HOSTILE_UPDATES, targetOf } from '../../support/hostile-updates.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { type SeededRandom, seededRandom } from '../../support/seeded-random.ts';
import { turnsOfTheLoop } from '../../support/until.ts';
import { message } from '../raw-client.ts';
import { seedCrypto } from './seeded-crypto.ts';
import { Guest } from './trace-guest.ts';
import { loadBuild, TracedServer } from './traced-server.ts';
import { BINARY, TEXT } from './wire-line.ts';

/** The first twice, so that more happens there. */
const BOARDS = ['kites', 'kites', 'lanes'];
const ROLES = ['owner', 'co-maker', 'co-maker', 'co-maker', 'co-maker', 'onlooker'] as const;
const MOST_GUESTS = 14;
const ROWS = 8;

const passOf = (index: number): Pass => {
  const role = ROLES[index % ROLES.length]!;
  const canWrite = role === 'owner' || role === 'co-maker';
  return { role, canWrite, personId: `person ${index}`, isAdmitted: true };
};
/** Looks on without a link. */
const STRANGER: Pass = { role: 'onlooker', canWrite: false, personId: null, isAdmitted: false };

/** What a script dwells on. */
interface Emphasis {
  /** How many times as often as else something is done. */
  readonly times: Readonly<Record<string, number>>;
  readonly documentBytes: number;
}

const CALM = { damage: 0, break: 0, remove: 0, fail: 0.2, 'cut off': 0 };
const LARGE = 128 * 1024;
const EMPHASES: readonly Emphasis[] = [
  { times: {}, documentBytes: LARGE },
  // Readers who fall behind.
  { times: { ...CALM, stall: 5, wear: 4, wait: 0.6, empty: 0.3, harm: 0.3 }, documentBytes: LARGE },
  // Copies of ended generations.
  { times: { ...CALM, empty: 6, come: 2.5, wear: 2, harm: 0.3 }, documentBytes: LARGE },
  // Those who mean harm, lines that are silent, documents that are full.
  { times: { ...CALM, harm: 6, ask: 3, wait: 2, come: 2, 'change pass': 4 }, documentBytes: 10 * 1024 },
  // A store that is slow or fails.
  {
    times: { fail: 3, hold: 4, answer: 2, break: 2, 'edit by the server': 4, remove: 4, damage: 2 },
    documentBytes: LARGE,
  },
];

class Script {
  readonly #server: TracedServer;
  readonly #random: SeededRandom;
  readonly #emphasis: Emphasis;
  #guests: Guest[] = [];
  /** What guests held when they left. */
  readonly #copies: { readonly board: string; readonly doc: Y.Doc }[] = [];
  #count = 0;
  /** Those who edit as soon as they are in. */
  #early: Guest[] = [];

  constructor(server: TracedServer, random: SeededRandom, emphasis: Emphasis) {
    this.#server = server;
    this.#random = random;
    this.#emphasis = emphasis;
  }

  async run(steps: number): Promise<void> {
    for (const [index, id] of [...new Set(BOARDS)].entries()) {
      const doc = this.#newDoc();
      writeBoard(doc, sampleBoard(8, ROWS), () => this.#newId());
      await this.#server.store.addBoard({ id, kind: 'board', createdAt: index }, [
        { part: 'design', bytes: Y.encodeStateAsUpdate(doc) },
      ]);
    }
    for (let i = 0; i < 6; i += 1) this.#server.passes.set(`p${i}`, passOf(i));
    this.#server.passes.set('p6', STRANGER);
    for (let step = 0; step < steps; step += 1) {
      const [name, act] = this.#pick();
      this.#server.note(`--- ${step} ${name}`);
      await act();
      await this.#settle();
    }
    await this.#end();
  }

  /** Lets everything have its turn until nothing is said any more. */
  async #settle(): Promise<void> {
    const { lines } = this.#server;
    for (let quiet = 0; quiet < 4; ) {
      const before = lines.length;
      const isHeard = this.#guests.map((guest) => guest.hear()).includes(true);
      for (const guest of this.#early) if (guest.isIn) this.#editEarly(guest);
      this.#early = this.#early.filter((guest) => !guest.isIn && !guest.isGone);
      await turnsOfTheLoop();
      quiet = isHeard || lines.length > before ? 0 : quiet + 1;
    }
    for (const guest of this.#guests) if (guest.isGone) this.#forget(guest);
    this.#guests = this.#guests.filter((guest) => !guest.isGone);
  }

  #forget(guest: Guest): void {
    // Who is told that the copy is of no use mostly drops it.
    if (!guest.isOutdated || this.#random.chance(0.2)) this.#copies.push(guest);
    guest.leave(false);
  }

  async #end(): Promise<void> {
    const server = this.#server;
    server.note('--- end');
    server.fault = null;
    server.isHeld = false;
    server.answer();
    for (const { line } of this.#guests) line.stall(false);
    for (const { relay } of server.nodes) relay.setUp(true);
    for (let i = 0; i < 8; i += 1) {
      server.clock.turn(5_000);
      await this.#settle();
    }
    for (const { upgrade, rooms } of server.nodes) {
      upgrade.stop();
      let left: number | null = null;
      const closed = rooms.close(2_000).then((count) => {
        left = count;
      });
      while (left === null) {
        server.clock.turn(50);
        await this.#settle();
      }
      await closed;
      server.note(`left ${left}`);
    }
    for (const { line } of this.#guests) line.destroy();
    await this.#settle();
    server.noteCounts();
  }

  #newId(): string {
    this.#count += 1;
    return `t${this.#count}`;
  }

  #newDoc(): Y.Doc {
    const doc = new Y.Doc();
    doc.clientID = 1 + this.#random.below(2 ** 31);
    return doc;
  }

  #pick(): readonly [string, () => unknown] {
    let left =
      this.#random.next() * ACTS.reduce((sum, [name, weight]) => sum + weight * this.#times(name), 0);
    for (const [name, weight, act] of ACTS) {
      left -= weight * this.#times(name);
      if (left < 0) return [name, () => act.call(this)];
    }
    throw new RangeError('the weights do not add up');
  }

  #times(name: string): number {
    return this.#emphasis.times[name] ?? 1;
  }

  /** Somebody who is in; null when nobody is. */
  #someone(): Guest | null {
    const all = this.#guests.filter((guest) => guest.isIn);
    return all.length === 0 ? null : this.#random.pick(all);
  }

  come(): void {
    if (this.#guests.length >= MOST_GUESTS) return;
    const random = this.#random;
    const board = random.pick(BOARDS);
    const part = random.chance(0.93) ? 'design' : 'talk';
    const known = random.chance(0.65) ? this.#copies.filter((copy) => copy.board === board) : [];
    const doc = this.#newDoc();
    if (known.length > 0 && part === 'design')
      Y.applyUpdate(doc, Y.encodeStateAsUpdate(random.pick(known).doc), 'server');
    // A document without a name, made before the first exchange.
    else if (random.chance(0.15)) doc.getMap('meta').set('title', this.#newId());
    this.#count += 1;
    const name = `g${this.#count}`;
    const cookie = `p${random.below(7)}`;
    const line = this.#server.come(name, random.pick(this.#server.nodes), `/sync/${board}/${part}`, cookie);
    const manners = {
      answers: random.chance(0.92),
      asks: random.chance(0.92),
      listens: random.chance(0.92),
      marks: random.chance(0.8),
      pieceBytes: random.chance(0.25) ? 2_000 : null,
    };
    const guest = new Guest(name, part === 'design' ? board : 'none', doc, line, manners);
    this.#guests.push(guest);
    // Something done without a line, that the server has not seen.
    if (known.length > 0 && random.chance(0.6)) this.#tie(guest, 1 + random.below(random.pick([4, 60])));
    if (random.chance(0.3)) this.#early.push(guest);
  }

  leave(): void {
    this.#someone()?.leave(this.#random.chance(0.5));
  }

  async empty(): Promise<void> {
    for (const guest of this.#guests) guest.leave(this.#random.chance(0.5));
    for (let i = 0; i < 5; i += 1) {
      await this.#settle();
      this.#server.clock.turn(600);
    }
  }

  #tie(guest: Guest, times: number): void {
    const random = this.#random;
    const design = new Design(guest.doc, { makerId: guest.name, newId: () => this.#newId(), captureMs: 0 });
    for (let i = 0; i < times; i += 1)
      design.run({
        kind: 'set-knots',
        knots: [{ row: random.below(ROWS), k: random.below(3), knot: random.below(5) as KnotCode }],
      });
    design.dispose();
  }

  /** Before the answer to its first question has come. */
  #editEarly(guest: Guest): void {
    guest.doc.getMap('meta').set('title', this.#newId());
    guest.send(false);
  }

  edit(): void {
    const guest = this.#someone();
    if (guest === null) return;
    this.#tie(guest, 1 + this.#random.below(3));
    guest.send(this.#random.chance(0.3));
  }

  async wear(): Promise<void> {
    const guest = this.#someone();
    if (guest === null) return;
    this.#tie(guest, 100 + this.#random.below(200));
    guest.send(true);
  }

  mark(): void {
    this.#someone()?.mark();
  }

  show(): void {
    const guest = this.#someone();
    if (guest === null) return;
    const id = this.#random.chance(0.7) ? `person ${this.#random.below(6)}` : null;
    guest.show(
      this.#random.below(30),
      this.#random.chance(0.1) ? 'null' : JSON.stringify({ person: { id } }),
    );
  }

  ask(): void {
    if (this.#random.chance(0.5)) this.#someone()?.ask();
    else this.#someone()?.say(message(3));
  }

  stall(): void {
    for (let i = 0; i < 3; i += 1) this.#someone()?.line.stall(true);
  }

  goOn(): void {
    for (const { line } of this.#guests) line.stall(false);
  }

  turn(): void {
    this.#server.clock.turn(this.#random.pick([5, 30, 250]));
  }

  wait(): void {
    this.#server.clock.turn(this.#random.pick([1_000, 5_000, 5_000, 10_000, 20_000]));
  }

  setBack(): void {
    this.#server.setBackMs += 30_000;
  }

  fail(): void {
    const kind = this.#random.pick(['full', 'locked', 'unavailable'] as const);
    this.#server.fault = { kind, when: this.#random.pick(['before', 'after']) };
  }

  recover(): void {
    this.#server.fault = null;
    this.#server.keepsCopies = this.#random.chance(0.8);
  }

  hold(): void {
    this.#server.isHeld = true;
  }

  answer(): void {
    if (this.#random.chance(0.5)) this.#server.isHeld = false;
    this.#server.answer(this.#random.chance(0.5) ? 1 : undefined);
  }

  async editByServer(): Promise<void> {
    const { rooms } = this.#random.pick(this.#server.nodes);
    const board = this.#random.pick(BOARDS);
    const note = (how: string): void => this.#server.note(`edit by the server ${how}`);
    const edited = async (): Promise<void> => {
      const { room, release } = await rooms.hold({ board, part: 'design' });
      try {
        await room.edit((doc) => doc.getMap('meta').set('title', this.#newId()));
        note('stored');
      } finally {
        release();
      }
    };
    edited().catch((cause: unknown) => note((cause as Error).message));
  }

  async changePass(): Promise<void> {
    const { passes, nodes, clock } = this.#server;
    const index = this.#random.below(6);
    const pass = passOf(index + this.#random.below(2));
    const endsAt = clock.now() + 10_000;
    passes.set(`p${index}`, this.#random.chance(0.15) ? null : { ...pass, endsAt });
    if (this.#random.chance(0.7)) for (const { upgrade } of nodes) await upgrade.askAnew(null);
  }

  cutOff(): void {
    this.#random.pick(this.#server.nodes).relay.setUp(false);
  }

  join(): void {
    for (const { relay } of this.#server.nodes) relay.setUp(true);
  }

  damage(): void {
    this.#server.store.append({ board: 'lanes', part: 'design' }, Buffer.from('no update')).catch(() => {});
    this.#server.nodes[0]?.relay.setUp(false);
    this.#server.nodes[0]?.relay.setUp(true);
  }

  breakOne(): void {
    this.#server.breaks = true;
  }

  remove(): void {
    const { store, nodes } = this.#server;
    store.removeBoard('lanes').catch(() => {});
    nodes[0]?.rooms.closeBoard('lanes');
  }

  harm(): void {
    const guest = this.#someone();
    if (guest === null) return;
    const [name, act] = this.#random.pick(Object.entries(HARM));
    this.#server.note(`by ${name}`);
    act(guest, this.#random, () => this.#tie(guest, 3));
  }
}

/** What is not said by who means well. */
const HARM: Readonly<Record<string, (guest: Guest, random: SeededRandom, tie: () => void) => void>> = {
  garbage: (guest, random) => guest.say(Uint8Array.from({ length: 9 }, () => random.below(256))),
  text: (guest) => guest.line.say(TEXT, Buffer.from('hear me')),
  'an unknown kind': (guest) => guest.say(message(77)),
  'a denial': (guest) => guest.say(message(2, 0, 'no')),
  'edits without the first': (guest, _random, tie) => {
    tie();
    guest.sendWithoutFirst();
  },
  'another document': (guest) => {
    const doc = new Y.Doc();
    doc.clientID = 99;
    doc.getMap('identity').set('name', 'other/design');
    guest.say(message(0, 2, Y.encodeStateAsUpdate(doc)));
  },
  'a large presence': (guest) => guest.show(5, JSON.stringify({ text: 'x'.repeat(5_000) })),
  'a presence that is none': (guest) => guest.show(6, '[1]'),
  'many questions': (guest) => {
    for (let i = 0; i < 25; i += 1) guest.ask();
  },
  'many messages': (guest) => {
    for (let i = 0; i < 70; i += 1) guest.say(message(2, 0, 'no'));
  },
  'many messages in one': (guest) => guest.say(Buffer.concat(Array.from({ length: 101 }, () => message(3)))),
  'a piece': (guest) => guest.say(message(102, 10, 0, Buffer.from('ab'))),
  'a large message': (guest) => guest.line.say(BINARY, Buffer.alloc(300_000)),
  'a mark alone': (guest) => guest.mark(),
  'an empty answer': (guest) => guest.say(message(0, 1, Uint8Array.of(0, 0))),
  hostile: (guest, random) => {
    if (guest.doc.getMap('identity').size === 0) return;
    const update = random.pick(Object.values(HOSTILE_UPDATES))(targetOf(guest.doc), random);
    guest.say(message(0, random.pick([1, 2]), update));
  },
  'any structs': (guest, random) => {
    if (guest.doc.getMap('identity').size === 0) return;
    guest.say(message(0, 2, anyStructs(targetOf(guest.doc), random, random.pick([0, 0.1]))));
  },
  costly: (guest, random) => {
    const { before, update } = random.pick(Object.values(COSTLY_UPDATES))(random.pick([40, 150]));
    if (before !== null) guest.say(message(0, 2, before));
    guest.say(message(0, 2, update));
    guest.mark();
  },
};

const ACTS: readonly (readonly [name: string, weight: number, act: (this: Script) => unknown])[] = [
  ['come', 18, Script.prototype.come],
  ['leave', 3, Script.prototype.leave],
  ['empty', 1.2, Script.prototype.empty],
  ['edit', 24, Script.prototype.edit],
  ['wear', 8, Script.prototype.wear],
  ['mark', 6, Script.prototype.mark],
  ['show', 8, Script.prototype.show],
  ['ask', 3, Script.prototype.ask],
  ['stall', 4, Script.prototype.stall],
  ['go on', 2, Script.prototype.goOn],
  ['turn', 10, Script.prototype.turn],
  ['wait', 5, Script.prototype.wait],
  ['set back', 0.3, Script.prototype.setBack],
  ['fail', 1.2, Script.prototype.fail],
  ['recover', 6, Script.prototype.recover],
  ['hold', 2, Script.prototype.hold],
  ['answer', 6, Script.prototype.answer],
  ['edit by the server', 1.5, Script.prototype.editByServer],
  ['change pass', 1.2, Script.prototype.changePass],
  ['cut off', 0.7, Script.prototype.cutOff],
  ['join', 1.5, Script.prototype.join],
  ['damage', 0.07, Script.prototype.damage],
  ['break', 0.15, Script.prototype.breakOne],
  ['remove', 0.07, Script.prototype.remove],
  ['harm', 5, Script.prototype.harm],
];

/** All that a build of the server does when this script is played to it. */
export async function traceOf(folder: URL, seed: number, steps: number): Promise<readonly string[]> {
  seedCrypto(seed);
  const emphasis = EMPHASES[seed % EMPHASES.length]!;
  const { documentBytes } = emphasis;
  const server = new TracedServer(await loadBuild(folder), 1 + (seed % 2), { documentBytes });
  await new Script(server, seededRandom(seed), emphasis).run(steps);
  return server.lines;
}
