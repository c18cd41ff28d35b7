/** Updates of few bytes whose structs take Yjs steps by the square: ways there are, each of a size. */
import { type CraftedStruct, craftUpdate, values } from './crafted-update.ts';

export interface Costly {
  /** What has to be there, and takes few steps by itself; null = nothing. */
  readonly before: Uint8Array | null;
  readonly update: Uint8Array;
}

/** Client ids of what is there, and of what comes to it; Yjs draws no such. */
export const MAKER = 2 ** 32 + 5;
export const STRANGER = 2 ** 40;

const many = (size: number, struct: (i: number) => CraftedStruct): CraftedStruct[] =>
  Array.from({ length: size }, (_, i) => struct(i));

/** Entries of a list, each behind the one before it. */
const row = (size: number): CraftedStruct[] =>
  many(size, (i) =>
    i === 0
      ? { parent: 'rowPairs', content: values('p.~1') }
      : { origin: [MAKER, i - 1], content: values('p.~1') },
  );

/** As many clients, each with an entry at the beginning of a list. */
const crowd = (first: number, size: number): Uint8Array =>
  craftUpdate(
    Array.from({ length: size }, (_, i) => ({
      client: first + size - i,
      structs: [{ parent: 'rowPairs', content: values('p.~1') }],
    })),
  );

const alone = (client: number, structs: readonly CraftedStruct[]): Uint8Array =>
  craftUpdate([{ client, structs }]);

export const COSTLY_UPDATES: Readonly<Record<string, (size: number) => Costly>> = {
  'many clients at one place of a list, where many are': (size) => ({
    before: crowd(MAKER, size),
    update: crowd(STRANGER, size),
  }),
  'one key written over and over as if it were new': (size) => ({
    before: null,
    update: alone(
      MAKER,
      many(size, () => ({ parent: 'meta', key: 'a', content: values(1) })),
    ),
  }),
  'a key with a long past, and another behind its beginning': (size) => ({
    // Two keys in turn: what is overwritten does not become one struct.
    before: alone(
      MAKER,
      many(2 * size, (i) =>
        i < 2
          ? { parent: 'meta', key: i === 0 ? 'a' : 'b', content: values(i) }
          : { origin: [MAKER, i - 2], content: values(i) },
      ),
    ),
    update: alone(
      STRANGER,
      many(size, () => ({ origin: [MAKER, 0], content: values(1) })),
    ),
  }),
  'from the first entry of a list to each of the others': (size) => ({
    before: alone(MAKER, [
      { parent: 'rowPairs', content: values(...Array.from({ length: size }, () => 'p.~1')) },
    ]),
    update: alone(
      STRANGER,
      many(size, (i) => ({
        origin: [MAKER, 0],
        rightOrigin: [MAKER, size - 1 - (i % (size - 1))],
        content: values('p.~2'),
      })),
    ),
  }),
  'entries that become one, one by one': (size) => ({ before: null, update: alone(MAKER, row(size)) }),
  'one long struct taken apart by deletions': (size) => ({
    before: null,
    update: craftUpdate(
      [
        {
          client: MAKER,
          structs: [{ parent: 'rowPairs', content: values(...Array.from({ length: size }, () => '')) }],
        },
      ],
      Array.from({ length: size >> 1 }, (_, i) => ({ client: MAKER, clock: 2 * i, length: 1 })),
    ),
  }),
};
