/** What is called saved is on the server's disk, whatever happens to the line and to the server. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { SaveLedger } from '../../../web/sync/save-ledger.ts';

/**
 * A model of the other side: the line keeps order, the server stores what it has read when it likes, and answers a mark with
 * all before it. What the ledger calls saved must be stored.
 */
class World {
  readonly ledger = new SaveLedger((mark) => this.line.push({ mark, holds: this.edits }));
  /** Edits of the copy, by how many there are. */
  edits = 0;
  stored = 0;
  isOpen = false;
  line: { readonly mark: number | null; readonly holds: number }[] = [];
  answers: number[] = [];
  read = 0;

  edit(): void {
    this.edits += 1;
    // What is edited goes out at once where there is a socket, whether or not the server has asked.
    if (this.isOpen) this.line.push({ mark: null, holds: this.asked ? this.edits : this.read });
    if (this.ledger.edited()) this.dues += 1;
  }
  dues = 0;
  asked = false;

  turn(): void {
    if (this.dues === 0) return;
    this.dues = 0;
    this.ledger.due();
  }

  open(): void {
    if (this.isOpen) return;
    this.isOpen = true;
    this.asked = false;
    this.ledger.opened();
  }

  ask(): void {
    if (!this.isOpen || this.asked) return;
    this.asked = true;
    this.line.push({ mark: null, holds: this.edits });
    this.ledger.answered();
  }

  cut(): void {
    this.isOpen = false;
    this.line = [];
    this.answers = [];
    // What the server had read and not stored is gone with it.
    this.read = this.stored;
    this.ledger.closed();
  }

  serverReads(): void {
    const next = this.line.shift();
    if (next === undefined) return;
    this.read = Math.max(this.read, next.holds);
    if (next.mark === null) return;
    this.stored = this.read;
    this.answers.push(next.mark);
  }

  recover(): void {
    this.ledger.recovered();
  }

  hear(): void {
    const mark = this.answers.shift();
    if (mark !== undefined) this.ledger.heard(mark);
  }
}

const STEPS = ['edit', 'turn', 'open', 'ask', 'cut', 'serverReads', 'hear', 'recover'] as const;

it('[V107] what is called saved is stored, in whatever order things happen; and in the end all is saved', () => {
  let savedAtSomeTime = 0;
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...STEPS), { maxLength: 60 }), (steps) => {
      const world = new World();
      for (const step of steps) {
        world[step]();
        if (world.ledger.isUnsaved) continue;
        savedAtSomeTime += 1;
        expect(world.stored).toBe(world.edits);
      }
      world.turn();
      world.open();
      world.ask();
      while (world.line.length > 0) world.serverReads();
      while (world.answers.length > 0) world.hear();
      expect(world.ledger.isUnsaved).toBe(false);
      expect(world.stored).toBe(world.edits);
    }),
    { numRuns: 3000 },
  );
  expect(savedAtSomeTime).toBeGreaterThan(100);
});

it('[V107] a copy that was loaded counts as unsaved until the server has confirmed it', () => {
  const marks: number[] = [];
  const ledger = new SaveLedger((mark) => marks.push(mark));
  expect(ledger.isUnsaved).toBe(false);
  ledger.opened();
  expect(ledger.isUnsaved).toBe(true);
  ledger.answered();
  ledger.heard(marks[0]! - 1);
  expect(ledger.isUnsaved).toBe(true);
  ledger.heard(marks[0]!);
  expect(ledger.isUnsaved).toBe(false);
});

it('[V107] a mark that was never sent confirms nothing that comes later', () => {
  const ledger = new SaveLedger(() => {});
  ledger.opened();
  ledger.answered();
  ledger.heard(1_000_000);
  ledger.edited();
  ledger.due();
  expect(ledger.isUnsaved).toBe(true);
});

it('[V107] when the server can store again it is asked about what waits, and about nothing where all is saved', () => {
  const marks: number[] = [];
  const ledger = new SaveLedger((mark) => marks.push(mark));
  ledger.opened();
  ledger.answered();
  // The server could not store, and does not answer the first mark.
  ledger.recovered();
  expect(marks).toHaveLength(2);
  ledger.heard(marks[1]!);
  expect(ledger.isUnsaved).toBe(false);
  ledger.recovered();
  expect([marks.length, ledger.isUnsaved]).toEqual([2, false]);
});

it('[V107] without a line nothing is asked; the next one asks once for all that was edited', () => {
  const marks: number[] = [];
  const ledger = new SaveLedger((mark) => marks.push(mark));
  ledger.opened();
  ledger.answered();
  ledger.heard(marks[0]!);
  ledger.closed();
  expect([ledger.edited(), ledger.edited()]).toEqual([true, false]);
  ledger.due();
  ledger.recovered();
  ledger.opened();
  expect(marks).toHaveLength(1);
  ledger.answered();
  expect([marks.length, ledger.isUnsaved]).toEqual([2, true]);
  ledger.heard(marks[1]!);
  expect(ledger.isUnsaved).toBe(false);
});
