/**
 * A board and a branch of it, each with makers of its own, random commands and random delivery; two owners take over the
 * branch now and then, all of it or a part, at once or one after the other. A failure says how its seed is repeated.
 */
import { expect, test } from 'vitest';
import * as Y from 'yjs';
import {
  applyCommand,
  compactDesign,
  Design,
  mergeDesigns,
  readDesign,
  readKeyed,
  writeBoard,
} from '../../engine/document/index.ts';
import { formatBoard, parseBoard } from '../../engine/index.ts';
import { cases, firstSeed, seedFailed } from '../support/depth.ts';
import { numberedDoc } from '../support/open-design.ts';
import { countingIds } from '../support/sample-board.ts';
import { type SeededRandom, seededRandom } from '../support/seeded-random.ts';
import { knotsByAddress } from './knot-ledger.ts';
import { randomBoard, randomCommand } from './random-command.ts';

const RUNS = cases(100, 1000);
const STEPS = 60;

const met = new Map<string, number>();
const meet = (what: string): void => void met.set(what, (met.get(what) ?? 0) + 1);

/** Makers of one document, with what is on its way to each. */
class Company {
  readonly designs: readonly Design[];
  readonly #inboxes: Uint8Array[][];
  readonly sent: Uint8Array[];

  constructor(begun: Uint8Array, makers: number, name: string, firstClient: number) {
    this.sent = [begun];
    this.#inboxes = Array.from({ length: makers }, () => []);
    this.designs = this.#inboxes.map((_, m) => {
      const doc = numberedDoc(firstClient + m);
      Y.applyUpdate(doc, begun, 'remote');
      doc.on('update', (update: Uint8Array, origin: unknown) => {
        if (origin === 'remote') return;
        this.sent.push(update);
        for (const [to, inbox] of this.#inboxes.entries()) if (to !== m) inbox.push(update);
      });
      return new Design(doc, { makerId: `${name}${m}`, newId: countingIds(`${name}${m}x`), captureMs: 0 });
    });
  }

  deliver(random: SeededRandom): void {
    const m = random.below(this.designs.length);
    const inbox = this.#inboxes[m]!;
    if (inbox.length === 0) return;
    const [update] = inbox.splice(random.below(inbox.length), 1);
    Y.applyUpdate(this.designs[m]!.doc, update!, 'remote');
  }

  deliverAll(): void {
    for (const { doc } of this.designs) for (const update of this.sent) Y.applyUpdate(doc, update, 'remote');
  }
}

function run(seed: number): void {
  const random = seededRandom(seed);
  const first = numberedDoc(100);
  writeBoard(first, randomBoard(random), countingIds('first'));
  const board = new Company(Y.encodeStateAsUpdate(first), 4, 'b', 1);
  const branchBegun = compactDesign(first)!;
  branchBegun.clientID = 101;
  const base = readKeyed(branchBegun)!;
  const branch = new Company(Y.encodeStateAsUpdate(branchBegun), 2, 'p', 11);
  /** Every knot that stood at an address when somebody had worked there. */
  const tied = new Set<string>();
  const note = (design: Design): void => {
    for (const [address, knot] of knotsByAddress(design.snapshot)) tied.add(`${address} ${knot}`);
  };
  for (const design of [...board.designs, ...branch.designs]) note(design);

  for (let step = 0; step < STEPS; step++) {
    const dice = random.next();
    const company = random.chance(0.5) ? board : branch;
    if (dice < 0.45) {
      const design = random.pick(company.designs);
      design.run(randomCommand(random, design.snapshot));
      note(design);
    } else if (dice < 0.5) {
      const design = random.pick(company.designs);
      if (random.chance(0.6)) design.undo();
      else design.redo();
      note(design);
    } else if (dice < 0.9) company.deliver(random);
    else {
      // One of the two owners, whatever each has heard so far.
      const owner = board.designs[random.below(2)]!;
      takeOver(random, owner, random.pick(branch.designs));
      note(owner);
    }
  }
  takeOver(random, board.designs[0]!, branch.designs[0]!);
  takeOver(random, board.designs[1]!, branch.designs[1]!);
  for (const design of board.designs) note(design);
  for (const company of [board, branch]) check(random, company, tied);

  function takeOver(chance: SeededRandom, owner: Design, proposer: Design): void {
    const toward = readKeyed(proposer.doc);
    const ours = readKeyed(owner.doc);
    if (toward === null || ours === null) return;
    const { changes, conflicts } = mergeDesigns(base, ours, toward);
    const isAll = chance.chance(0.5);
    const taken = [
      ...changes.filter(() => isAll || chance.chance(0.5)),
      ...conflicts.filter(() => chance.chance(0.5)).flatMap((one) => one.changes),
    ];
    const result = owner.run(applyCommand(taken, toward));
    meet(result.ok ? (isAll ? 'all' : 'part') : `refused ${result.error.kind}`);
    if (conflicts.length > 0) meet('conflicts');
  }
}

function check(random: SeededRandom, company: Company, tied: ReadonlySet<string>): void {
  company.deliverAll();
  const [{ doc }] = company.designs as [Design, ...Design[]];
  const read = readDesign(doc);
  for (const own of company.designs) {
    expect(own.doc.store.pendingStructs).toBeNull();
    expect(own.snapshot).toEqual(read);
  }
  const rebuilt = new Y.Doc();
  Y.applyUpdate(rebuilt, Y.mergeUpdates(random.shuffle(company.sent)));
  expect(readDesign(rebuilt)).toEqual(read);
  expect(parseBoard(JSON.stringify(formatBoard(read.board)))).toEqual({ ok: true, value: read.board });
  expect(readDesign(compactDesign(doc)!)).toEqual({ ...read, repairs: [] });
  const strange = Array.from(knotsByAddress(read), ([address, knot]) => ({ address, knot })).filter(
    ({ address, knot }) => knot !== 0 && !tied.has(`${address} ${knot}`),
  );
  expect(strange).toEqual([]);
}

test('[D120] [D121] [D143] owners who take over a branch while others work end with the same board', () => {
  for (let i = 0; i < RUNS; i++) {
    const seed = firstSeed + i;
    try {
      run(seed);
    } catch (cause) {
      throw new Error(seedFailed(seed), { cause });
    }
  }
});

if (RUNS >= 100)
  test('the runs took over all, parts, and met conflicts', () => {
    expect(['all', 'part', 'conflicts'].filter((what) => (met.get(what) ?? 0) < 20)).toEqual([]);
  });
