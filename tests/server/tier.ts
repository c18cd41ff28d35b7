/** A page in a chaos run: what it tied, what it was told is saved, and so what must be there. */
import { expect } from 'vitest';
import type { KnotCode } from '../../engine/index.ts';
import { knotAt } from '../../engine/pattern/pattern.ts';
import type { SeededRandom } from '../support/seeded-random.ts';
import type { LinePage } from './line-page.ts';

/** Knots on each row at the least. */
const PER_ROW = 3;
/** Edits that a page makes before it is told that they are saved, at most: who edits faster than they can be brought over is never done. */
const MOST_UNSAVED = 400;

interface Edit {
  readonly place: string;
  readonly knot: KnotCode;
}

/** A page that ties knots on rows of its own, again and again, and adds rows at the end. */
export class Tier {
  readonly page: LinePage;
  readonly node: number;
  readonly #rows: readonly number[];
  readonly edits: Edit[] = [];
  pairs = 0;
  /** How many of the edits, and of the pairs of rows, it was told are saved. */
  acknowledged = 0;
  acknowledgedPairs = 0;

  /** @param rows nobody else ties on these */
  constructor(page: LinePage, node: number, rows: readonly number[]) {
    this.page = page;
    this.node = node;
    this.#rows = rows;
  }

  edit(random: SeededRandom): void {
    // A page gives up a copy as soon as it hears that it may; nobody edits it after that.
    this.page.look();
    const { design } = this.page;
    if (design.state.kind === 'empty' || this.edits.length - this.acknowledged >= MOST_UNSAVED) return;
    if (random.chance(0.002)) {
      const at = design.snapshot.rowPairIds.length;
      if (design.run({ kind: 'insert-row-pairs', at, count: 1 }).ok) this.pairs += 1;
      return;
    }
    const [row, k, knot] = [random.pick(this.#rows), random.below(PER_ROW), random.below(5) as KnotCode];
    expect(design.run({ kind: 'set-knots', knots: [{ row, k, knot }] })).toEqual({ ok: true });
    this.edits.push({ place: `${row} ${k}`, knot });
  }

  /** Does what a page does when it hears of its line, and notes what it is told. */
  look(): boolean {
    this.page.look();
    if (this.page.line.saved !== 'saved' || this.page.design.state.kind === 'empty') return false;
    const { pattern } = this.page.design.snapshot.board;
    for (const [place, knot] of new Map(this.edits.map((edit) => [edit.place, edit.knot]))) {
      const [row, k] = place.split(' ').map(Number) as [number, number];
      // Nobody else ties on these rows.
      expect(knotAt(pattern, row, k), `saved, at ${place}: ${this.history(place)}`).toBe(knot);
    }
    this.acknowledged = this.edits.length;
    this.acknowledgedPairs = this.pairs;
    return true;
  }

  leave(): void {
    this.page.wire.isDown = true;
    this.page.wire.cut();
  }

  comeBack(): void {
    this.page.wire.isDown = false;
  }

  /** What became of a place, in the order of time. */
  history(place: string): string {
    const all = this.edits.map((edit, n) => ({ ...edit, n })).filter((edit) => edit.place === place);
    return `${all.map(({ knot, n }) => `${n}:${knot}`).join(' ')} of ${this.edits.length}, acknowledged ${this.acknowledged}, dropped ${this.page.drops}`;
  }

  /** Knots that each place may show where at least what was acknowledged is there. */
  possible(): Map<string, Set<KnotCode>> {
    const knots = new Map<string, Set<KnotCode>>();
    this.edits.forEach(({ place, knot }, n) => {
      const known = knots.get(place) ?? new Set<KnotCode>([0]);
      if (n < this.acknowledged) known.clear();
      knots.set(place, known.add(knot));
    });
    return knots;
  }
}
