/** Rings, clasps, beads and what else hangs on a piece beside its cords. */
import { type Board, isHung, type PartKind, type PartSupply } from '../pattern/index.ts';
import { requireNotNegative } from './field-error.ts';
import { timesRate } from './price.ts';

/** A line of parts for all pieces. */
export interface PartToBuy {
  /** Null: the ring or bar that every piece hangs from, where no line says of which. */
  readonly id: string | null;
  readonly kind: PartKind;
  /** The maker's own name for it; may be empty. */
  readonly name: string;
  /** That all pieces take, and those that are not at home. */
  readonly count: number;
  readonly buy: number;
  /** Of one; null where none is stated. */
  readonly price: number | null;
  /** Of all that are used, and of those to buy. */
  readonly usedPrice: number | null;
  readonly buyPrice: number | null;
}

/**
 * Parts for so many pieces: the ring first where no line is one, then the lines; without a ring no line that is one.
 * @throws FieldRangeError when a number is negative
 * Rules L74, L104.
 */
export function partsOf(
  { piece, supplies }: Pick<Board, 'piece' | 'supplies'>,
  pieces: number,
): readonly PartToBuy[] {
  const all = (supplies?.parts ?? []).map((part, i) => lineOf(part, pieces, `supplies.parts[${i}]`));
  const lines = isHung(piece) ? all : all.filter(({ kind }) => kind !== 'ring');
  if (!isHung(piece) || lines.some(({ kind }) => kind === 'ring' || kind === 'clasp')) return lines;
  const price = { price: null, usedPrice: null, buyPrice: null };
  return [{ id: null, kind: 'ring', name: '', count: pieces, buy: pieces, ...price }, ...lines];
}

function lineOf(part: PartSupply, pieces: number, path: string): PartToBuy {
  const { id, kind = 'other', name = '', count = 1, have = 0, price = null } = part;
  for (const [field, value] of Object.entries({ count, have, price: price ?? 0 }))
    requireNotNegative(`${path}.${field}`, value);
  const all = count * pieces;
  const buy = Math.max(0, all - have);
  const prices = { usedPrice: timesRate(price, all), buyPrice: timesRate(price, buy) };
  return { id, kind, name, count: all, buy, price, ...prices };
}
