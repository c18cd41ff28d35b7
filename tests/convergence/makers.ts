/**
 * Several makers joined by queues that lose their order, with one seeded generator that chooses who does what, what
 * arrives when, and who drops off. After Yjs's own `tests/testHelper.js` (github.com/yjs/yjs), with our own commands.
 */
import * as Y from 'yjs';
import type { CommandKind } from '../../engine/document/command.ts';
import { Design, writeBoard } from '../../engine/document/index.ts';
import { numberedDoc } from '../support/open-design.ts';
import { countingIds } from '../support/sample-board.ts';
import { type SeededRandom, seededRandom } from '../support/seeded-random.ts';
import { KnotLedger } from './knot-ledger.ts';
import { randomBoard, randomCommand } from './random-command.ts';

interface Maker {
  readonly design: Design;
  /** Updates on their way here, from whom they come is no matter. */
  inbox: { readonly update: Uint8Array; readonly happening: number }[];
  /** Happenings whose updates were taken in. */
  readonly known: Set<number>;
  isOnline: boolean;
}

/** One thing that happened, for what was concurrent with what. */
export interface Happening {
  readonly maker: number;
  readonly kind: CommandKind | 'undo' | 'redo';
  readonly id: number;
  /** Happenings that this maker knew of. */
  readonly known: ReadonlySet<number>;
}

export interface RunOptions {
  readonly makers?: number;
  readonly steps?: number;
}

/** One seeded run: everybody works, then all come back and hear everything. */
export class Run {
  readonly makers: readonly Maker[];
  readonly ledger = new KnotLedger();
  readonly happenings: Happening[] = [];
  /** Every update that anybody sent, in no useful order. */
  readonly sent: Uint8Array[] = [];
  readonly counts = { refused: 0, drops: 0, rejoins: 0, outOfOrder: 0, lost: 0, twice: 0 };
  /** What was wrong at the moment it happened. */
  readonly faults: string[] = [];
  readonly random: SeededRandom;
  readonly #steps: number;
  /** Id of the happening under way. */
  #now = 0;

  constructor(seed: number, { makers = 5, steps = 70 }: RunOptions = {}) {
    this.random = seededRandom(seed);
    this.#steps = steps;
    const first = numberedDoc(100);
    writeBoard(first, randomBoard(this.random), countingIds('first'));
    const begun = Y.encodeStateAsUpdate(first);
    this.sent.push(begun);
    // Who wins of two concurrent writes goes by client id: not always the same maker.
    const clientIds = this.random.shuffle(Array.from({ length: makers }, (_, i) => i + 1));
    this.makers = clientIds.map((clientId, m) => {
      const doc = numberedDoc(clientId);
      Y.applyUpdate(doc, begun, 'remote');
      doc.on('update', (update: Uint8Array, origin: unknown) => {
        if (origin !== 'remote') this.#broadcast(m, update);
      });
      const design = new Design(doc, { makerId: `m${m}`, newId: countingIds(`m${m}x`), captureMs: 0 });
      return { design, inbox: [], known: new Set(), isOnline: true };
    });
    this.ledger.found(this.makers[0]!.design.snapshot);
  }

  work(): void {
    for (let step = 0; step < this.#steps; step++) this.step(step);
    for (const maker of this.makers) this.#rejoin(maker);
    // Twice round: in the first, the last maker hears of everybody; in the second, everybody hears of the last.
    for (let round = 0; round < 2; round++)
      for (const from of this.makers) for (const to of this.makers) if (from !== to) resync(to, from);
  }

  /** Somebody does something, hears something, drops off or comes back. */
  step(step: number): void {
    const m = this.random.below(this.makers.length);
    const maker = this.makers[m]!;
    const dice = this.random.next();
    if (dice < 0.42) this.#command(m, step);
    else if (dice < 0.5) this.#undoOrRedo(m, step);
    else if (dice < 0.9) this.#deliver(maker);
    else if (dice < 0.95 && maker.isOnline) this.#drop(maker);
    else this.#rejoin(maker);
  }

  #command(m: number, step: number): void {
    const { design } = this.makers[m]!;
    const command = randomCommand(this.random, design.snapshot);
    const before = design.snapshot;
    this.#noting(m, command.kind, () => {
      const result = design.run(command);
      if (!result.ok) this.counts.refused++;
    });
    const fault = this.ledger.note(m, step, command, before, design.snapshot);
    if (fault !== null) this.faults.push(`step ${step}, maker ${m}: ${fault}`);
  }

  #undoOrRedo(m: number, step: number): void {
    const { design } = this.makers[m]!;
    const kind = this.random.chance(0.65) ? 'undo' : 'redo';
    this.#noting(m, kind, () => {
      if (kind === 'undo' ? design.undo() : design.redo()) this.ledger.noteUndo(m, step);
    });
  }

  #noting(m: number, kind: Happening['kind'], act: () => void): void {
    const { known } = this.makers[m]!;
    const id = this.happenings.length;
    const sent = this.sent.length;
    this.#now = id;
    const before = new Set(known);
    act();
    if (this.sent.length === sent) return;
    known.add(id);
    this.happenings.push({ maker: m, kind, id, known: before });
  }

  #broadcast(from: number, update: Uint8Array): void {
    this.sent.push(update);
    this.makers.forEach((to, m) => {
      if (m === from) return;
      // Offline at either end, or plainly lost: the next resync brings it.
      if (!to.isOnline || !this.makers[from]!.isOnline || this.random.chance(0.03)) this.counts.lost++;
      else to.inbox.push({ update, happening: this.#now });
    });
  }

  #deliver(maker: Maker): void {
    for (let n = 1 + this.random.below(4); n > 0 && maker.inbox.length > 0; n--) {
      const at = this.random.below(maker.inbox.length);
      if (at > 0) this.counts.outOfOrder++;
      const { update, happening } = maker.inbox[at]!;
      if (this.random.chance(0.05)) this.counts.twice++;
      else maker.inbox.splice(at, 1);
      Y.applyUpdate(maker.design.doc, update, 'remote');
      maker.known.add(happening);
    }
  }

  #drop(maker: Maker): void {
    this.counts.drops++;
    maker.isOnline = false;
    maker.inbox = [];
  }

  #rejoin(maker: Maker): void {
    if (!maker.isOnline) this.counts.rejoins++;
    maker.isOnline = true;
    const others = this.makers.filter((other) => other !== maker && other.isOnline);
    if (others.length === 0) return;
    const other = this.random.pick(others);
    resync(maker, other);
    resync(other, maker);
  }

  /** Whether neither of two happenings knew of the other. */
  isConcurrent(a: Happening, b: Happening): boolean {
    return a.maker !== b.maker && !a.known.has(b.id) && !b.known.has(a.id);
  }
}

/** Brings what `from` knows and `to` lacks, as the sync protocol does: state vector there, difference back. */
function resync(to: Maker, from: Maker): void {
  const vector = Y.encodeStateVector(to.design.doc);
  Y.applyUpdate(to.design.doc, Y.encodeStateAsUpdate(from.design.doc, vector), 'remote');
  for (const id of from.known) to.known.add(id);
}
