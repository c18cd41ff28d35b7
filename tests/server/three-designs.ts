/**
 * Random threes of a design as its generation ended, a copy with a client's edits, and the next generation with those of others.
 *
 * By such threes it was decided that a late copy is merged (`bringBack` with one fixed rule) and no longer repeated as commands. Of 10,000
 * (all commands, undo and redo) 6,894 ended alike. In 2,970 both sides had edited the same: repeating let the copy overwrite (some edit of
 * others was gone in 1,960 of all draws) or dropped its edit without a word (in 1,108 it was neither on the board nor kept); merging loses no
 * edit of a copy that shows, and of others' in nine draws what goes with something the copy took out: seven lead-ins longer than the rows,
 * two lone strings without another pair. In the 136 that are left nobody had edited the same. For merging: 33 patterns whose last row
 * repeating hid or showed by accident, 22 colours of a string beside a lone one, 5 knots tied or untied by accident, 26 palettes and a
 * colourway in an order of their own, 20 copies without edits kept for nothing, 7 boards opened on one that others had edited since, 4
 * deletions of strings refused (two take a lone string along). For repeating: 18 lead-ins that do not grow with rows of the copy. Edits made
 * on a copy after it came over missed their places in 424 of 2,001 draws in which nobody else edited, merged in 7. The price: 3,149 copies
 * are kept instead of 281; 200 strings and 20,000 rows take 0.39 s instead of 0.24, with 90,000 knots 0.65 instead of 0.86; on a full board
 * nothing that the copy added comes (V217).
 */
import * as Y from 'yjs';
import {
  type Change,
  compactDesign,
  Design,
  type KeyedDesign,
  readKeyed,
  writeBoard,
} from '../../engine/document/index.ts';
import { supplyValues } from '../../engine/files/index.ts';
import type { Board } from '../../engine/index.ts';
import { randomBoard, randomCommand } from '../convergence/random-command.ts';
import { firstSeed, seedFailed } from '../support/depth.ts';
import { numberedDoc } from '../support/open-design.ts';
import { countingIds } from '../support/sample-board.ts';
import { type SeededRandom, seededRandom } from '../support/seeded-random.ts';

/** A design with its ids. */
export const keyed = (doc: Y.Doc): KeyedDesign => readKeyed(doc)!;

/** The same document for another client. */
export function copyOf(doc: Y.Doc, clientId: number): Y.Doc {
  const copy = numberedDoc(clientId);
  Y.applyUpdate(copy, Y.encodeStateAsUpdate(doc));
  return copy;
}

/** Works on a document with random commands, undo and redo. */
export function work(random: SeededRandom, doc: Y.Doc, steps: number, isWhole: boolean): void {
  const design = new Design(doc, { makerId: 'm', newId: countingIds(`c${doc.clientID}-`), captureMs: 0 });
  for (let i = 0; i < steps; i += 1) {
    const command = randomCommand(random, design.snapshot);
    if (!isWhole && (command.kind === 'replace-pattern' || command.kind === 'load-board')) continue;
    design.run(command);
    if (random.chance(0.1)) design.undo();
    if (random.chance(0.05)) design.redo();
  }
  design.dispose();
}

/** What one seed draws. */
export interface Three {
  readonly random: SeededRandom;
  readonly base: Y.Doc;
  readonly mine: Y.Doc;
  readonly into: Y.Doc;
  /** Nobody else edited anything. */
  readonly isQuiet: boolean;
}

/** Client ids are the seed's own, so that a seed draws the same in every run. */
export function draw(seed: number): Three {
  const random = seededRandom(seed);
  const base = numberedDoc(1);
  writeBoard(base, randomBoard(random), countingIds('w'));
  const isWhole = random.chance(0.3);
  work(random, base, 2 + random.below(14), true);
  const mine = copyOf(base, 2);
  work(random, mine, random.chance(0.04) ? 0 : 1 + random.below(10), isWhole);
  const into = copyOf(compactDesign(base, 3)!, 4);
  const isQuiet = random.chance(0.2);
  if (!isQuiet) work(random, into, 1 + random.below(8), isWhole);
  return { random, base, mine, into, isQuiet };
}

/** Holds a law against many draws; a failure names its seed. */
export function forSeeds(count: number, law: (three: Three) => void): void {
  for (let seed = firstSeed; seed < firstSeed + count; seed += 1)
    try {
      law(draw(seed));
    } catch (cause) {
      throw new Error(seedFailed(seed), { cause });
    }
}

/** A board with its colourways by id: their order is not compared. */
export const sorted = (board: Board): Board => ({
  ...board,
  colourways: [...board.colourways].sort((a, b) => (a.id < b.id ? -1 : 1)),
});

/** Whether a design shows what an edit made. An order and a whole pattern are no single places, and are left to other laws. */
export function shows({ board, ends, ...design }: KeyedDesign, change: Change): boolean {
  const has = (list: readonly { readonly id: string }[], id: string) => list.some((one) => one.id === id);
  switch (change.kind) {
    case 'knot': {
      const { rowPair, stringPair, half } = change.address;
      const [i, j] = [design.rowPairIds.indexOf(rowPair), design.stringPairIds.indexOf(stringPair)];
      const byte = design.knots[i * design.stringPairIds.length + j]!;
      return i >= 0 && j >= 0 && (half === 'inside' ? byte & 15 : byte >> 4) === change.after;
    }
    case 'string-colour': {
      const j = design.stringPairIds.indexOf(change.address.stringPair);
      return j >= 0 && design.ofPairs[j * 2 + change.address.side] === change.after;
    }
    case 'rows-added':
    case 'rows-removed':
      return design.rowPairIds.includes(change.pair) === (change.kind === 'rows-added');
    case 'strings-added':
    case 'strings-removed':
      return design.stringPairIds.includes(change.pair) === (change.kind === 'strings-added');
    case 'end':
      return ends[change.end] === change.after;
    case 'title':
      return board.title === change.after;
    case 'extent':
      return board.piece.repeats === change.after.repeats && board.piece.lengthMm === change.after.lengthMm;
    case 'piece':
      return (board.piece[change.field] ?? null) === change.after;
    case 'gauge':
      return (board.gauge[change.field] ?? null) === change.after;
    case 'supply':
      return (supplyValues(board.supplies).get(change.field) ?? null) === change.after;
    case 'colour':
      return board.palette.find(({ id }) => id === change.id)?.[change.field] === change.after;
    case 'colour-added':
    case 'colour-removed':
      return has(board.palette, change.colour.id) === (change.kind === 'colour-added');
    case 'colourway-added':
    case 'colourway-removed':
      return has(board.colourways, change.colourway.id) === (change.kind === 'colourway-added');
    case 'colourway':
      return board.colourways.find(({ id }) => id === change.id)?.name === change.after.name;
    case 'colourway-colour': {
      const dressed = board.colourways.find(({ id }) => id === change.id);
      const shade = dressed?.colours.find(({ id }) => id === change.colour);
      return shade?.hex === change.after?.hex && shade?.name === change.after?.name;
    }
    case 'pattern':
    case 'palette-order':
      return true;
  }
}
