/** One thread in the shop and at home: what the maker knows of it, and how many skeins its cords take. */
import { threadKey } from '../files/index.ts';
import type { Board, ThreadSupply } from '../pattern/index.ts';
import { requireNotNegative, requirePositive } from './field-error.ts';
import { timesRate } from './price.ts';
import { packSkeins, type SkeinCount } from './skeins.ts';
import { SKEIN_MM } from './units.ts';

/** What is known of a thread that is bought. */
export interface BoughtThread {
  /** Of hers; null where she has none. */
  readonly number: string | null;
  /** Of a skein, her own or that of the board; null where neither is stated. */
  readonly price: number | null;
  readonly skeinMm: number;
  /** Have at home. */
  readonly haveMm: number;
  /** Of what is used of it, by its length, and of the skeins to buy. */
  readonly usedPrice: number | null;
  readonly buyPrice: number | null;
}

/**
 * A thread with all that is said of it. Of threads that are one, the one that stands for all says first; what is at home adds up.
 * @param key       of the thread that stands for all, by `threadKey`
 * @param standsFor by `joinThreads`
 * @param cords     how many there are of each length
 * @throws FieldRangeError when what is said is out of range
 * Rules L73 and L75.
 */
export function boughtThread(
  { piece, supplies }: Pick<Board, 'piece' | 'supplies'>,
  key: string,
  standsFor: (key: string) => string,
  cords: ReadonlyMap<number, number>,
): BoughtThread & SkeinCount {
  const said = (supplies?.threads ?? []).map((thread, i) => ({ thread, path: `supplies.threads[${i}]` }));
  const ours = said
    .filter(({ thread }) => standsFor(threadKey(thread)) === key)
    .sort((one, two) => Number(threadKey(two.thread) === key) - Number(threadKey(one.thread) === key));
  for (const { thread, path } of ours) check(thread, path);
  requirePositive('piece.skeinMm', piece.skeinMm ?? SKEIN_MM);
  requireNotNegative('piece.skeinPrice', piece.skeinPrice ?? 0);
  const first = <F extends keyof ThreadSupply>(field: F): ThreadSupply[F] | undefined =>
    ours.find(({ thread }) => thread[field] !== undefined)?.thread[field];
  const skeinMm = first('skeinMm') ?? piece.skeinMm ?? SKEIN_MM;
  const price = first('price') ?? piece.skeinPrice ?? null;
  const haveMm = ours.reduce((sum, { thread }) => sum + (thread.haveMm ?? 0), 0);
  const lengths = [...cords].map(([lengthMm, count]) => ({ lengthMm, count }));
  const count = packSkeins(lengths, skeinMm, haveMm);
  return {
    ...count,
    number: first('number') || null,
    price,
    skeinMm,
    haveMm,
    usedPrice: timesRate(price, count.totalMm / skeinMm),
    buyPrice: timesRate(price, count.skeins),
  };
}

function check({ price, skeinMm, haveMm }: ThreadSupply, path: string): void {
  requireNotNegative(`${path}.price`, price ?? 0);
  requirePositive(`${path}.skeinMm`, skeinMm ?? 1);
  requireNotNegative(`${path}.haveMm`, haveMm ?? 0);
}
