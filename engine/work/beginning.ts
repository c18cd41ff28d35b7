/** The first rows of a band tied one by one, and the knots that are then left for another order. */
import { rowParity } from '../pattern/index.ts';
import type { TiedKnots } from './knots.ts';

export interface Beginning {
  /** Knots in the order in which they are tied: those of the rows, then those for which the last string stays in the hand. */
  readonly order: Int32Array;
  /** All other knots, ascending. */
  readonly rest: Int32Array;
  /** Place of the last knot tied; -1 when none is. */
  readonly hand: number;
}

/**
 * Ties rows `0 … rows - 1` as `byRows` does and goes on with the string then in the hand as far as it goes alone. To go on never costs a
 * pick-up: in any order, the knots so tied may be moved up to here, which makes no further run. So the fewest pick-ups after
 * these rows are those of this beginning and the fewest of the rest on its own.
 * @param byRows the order row by row
 * @param start as in the pattern
 * O(knots). Rules O11, O12 in engine/RULES.md.
 */
export function beginByRows(knots: TiedKnots, byRows: Int32Array, rows: number, start: 0 | 1): Beginning {
  const isTied = new Uint8Array(knots.count);
  const order: number[] = [];
  const tie = (knot: number): void => {
    isTied[knot] = 1;
    order.push(knot);
  };
  for (const knot of byRows) {
    if (knots.row[knot]! >= rows) break;
    tie(knot);
  }
  const isFree = (before: number): boolean => before < 0 || isTied[before] === 1;
  const string = order.length === 0 ? -1 : knots.knotting[order[order.length - 1]!]!;
  for (let knot = 0; knot < knots.count; knot++) {
    if (isTied[knot] === 1 || knots.knotting[knot] !== string) continue;
    if (!(isFree(knots.beforeOnKnotting[knot]!) && isFree(knots.beforeOnCarrier[knot]!))) break;
    tie(knot);
  }
  const rest = new Int32Array(knots.count - order.length);
  let left = 0;
  for (let knot = 0; knot < knots.count; knot++) if (isTied[knot] === 0) rest[left++] = knot;
  const last = order[order.length - 1];
  const hand = last === undefined ? -1 : 2 * knots.k[last]! + rowParity(start, knots.row[last]!);
  return { order: Int32Array.from(order), rest, hand };
}

/** Some of the knots on their own, renumbered from 0. Of those left out, none waits for one of them. O(knots). */
export function onlyKnots(knots: TiedKnots, members: Int32Array): TiedKnots {
  const number = new Int32Array(knots.count).fill(-1);
  members.forEach((knot, at) => {
    number[knot] = at;
  });
  const links = (all: Int32Array): Int32Array =>
    members.map((knot) => (all[knot]! < 0 ? -1 : number[all[knot]!]!));
  return {
    count: members.length,
    strings: knots.strings,
    row: members.map((knot) => knots.row[knot]!),
    k: Int16Array.from(members, (knot) => knots.k[knot]!),
    kind: Uint8Array.from(members, (knot) => knots.kind[knot]!),
    knotting: Int16Array.from(members, (knot) => knots.knotting[knot]!),
    carrier: Int16Array.from(members, (knot) => knots.carrier[knot]!),
    beforeOnKnotting: links(knots.beforeOnKnotting),
    beforeOnCarrier: links(knots.beforeOnCarrier),
    afterOnKnotting: links(knots.afterOnKnotting),
    afterOnCarrier: links(knots.afterOnCarrier),
  };
}
