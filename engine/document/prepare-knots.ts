/** Computes `set-knots`. */
import { type KnotCode, knotsInRow, rowParity, rowStride } from '../pattern/index.ts';
import type { Command } from './command.ts';
import { type Half, knotKey, localOf } from './schema.ts';
import {
  type CommandContext,
  checkList,
  isWhole,
  type Prepared,
  refuse,
  show,
  writeSet,
} from './write-set.ts';
import { set, type Write } from './writes.ts';

/** Most knots that one command changes; more is a new pattern, which is stored packed. */
const MAX_KNOTS_AT_ONCE = 100_000;

/** The knot as seen in a mirror: forward and backward change places, and so do the two turning knots. */
export const MIRRORED_KNOT: readonly KnotCode[] = [0, 2, 1, 4, 3];

/** Index of the mirrored place in the same row of an even number of strings. */
function mirroredPlace(strings: number, parity: 0 | 1, k: number): number {
  return (strings >> 1) - 1 - k - parity;
}

type SetKnots = Extract<Command, { kind: 'set-knots' }>;

/** Later entries win over earlier ones in the same place; a knot on the middle line stays as given. Rule D40. */
export function prepareSetKnots(context: CommandContext, command: SetKnots): Prepared {
  const { start, rows, strings } = context.shape;
  const isMirrored = command.mirrored === true;
  if (isMirrored && strings % 2 === 1)
    return refuse('no-mirror', 'mirrored', `${strings} strings have no mirrored places in the same row`);
  const stride = rowStride(strings);
  const wanted = new Map<number, KnotCode>();
  const fault = checkList('knots', command.knots);
  if (fault !== null) return fault;
  for (const [i, entry] of command.knots.entries()) {
    if (typeof entry !== 'object' || entry === null)
      return refuse('wrong-type', `knots[${i}]`, { be: 'object' }, entry);
    const { row, k, knot } = entry;
    if (!isWhole(row, 0, rows - 1))
      return refuse('out-of-range', `knots[${i}].row`, `${show(row)} is outside 0 to ${rows - 1}`);
    const parity = rowParity(start, row);
    const count = knotsInRow(strings, parity);
    if (!isWhole(k, 0, count - 1))
      return refuse('out-of-range', `knots[${i}].k`, `${show(k)} is outside 0 to ${count - 1} in row ${row}`);
    if (!isWhole(knot, 0, 4)) return refuse('unknown-knot', `knots[${i}].knot`, `${show(knot)} is no knot`);
    if (isMirrored) wanted.set(row * stride + mirroredPlace(strings, parity, k), MIRRORED_KNOT[knot]!);
    wanted.set(row * stride + k, knot);
  }
  const writes: Write[] = [];
  for (const [cell, knot] of wanted) {
    if (context.board.pattern.knots[cell] === knot) continue;
    writes.push(set(context.roots.knots, keyOfCell(context, Math.floor(cell / stride), cell % stride), knot));
  }
  if (writes.length > MAX_KNOTS_AT_ONCE)
    return refuse('limit', 'knots', { be: 'most-knots', most: MAX_KNOTS_AT_ONCE }, writes.length);
  return writeSet(writes);
}

/** Key of a shown knot. */
export function keyOfCell({ shape, scope }: CommandContext, row: number, k: number): string {
  const half: Half = ((row + shape.start) & 1) === 0 ? 'inside' : 'seam';
  const string = localOf(scope.pattern, shape.stringPairIds[k])!;
  return knotKey(shape.rowPairIds[(row + shape.start) >> 1]!, string, half);
}
