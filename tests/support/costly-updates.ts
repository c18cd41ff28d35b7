/** Updates of few bytes whose structs take Yjs steps by the square: some ways there are, each of a size. */
import { type CraftedStruct, craftUpdate, values } from './crafted-update.ts';

const MAKER = 2 ** 32 + 5;
const STRANGER = 2 ** 32 + 9;

const many = (size: number, struct: (i: number) => CraftedStruct): CraftedStruct[] =>
  Array.from({ length: size }, (_, i) => struct(i));

/** Two keys written in turn, by one client: a long past that nothing makes shorter. */
const past = (size: number): CraftedStruct[] =>
  many(size, (i) =>
    i < 2
      ? { parent: 'meta', key: i === 0 ? 'a' : 'b', content: values(i) }
      : { origin: [MAKER, i - 2], content: values(i) },
  );

/** Each as one update; none needs anything that is there. */
export const COSTLY_UPDATES: Readonly<Record<string, (size: number) => Uint8Array>> = {
  'many clients at one place of a list': (size) =>
    craftUpdate(
      Array.from({ length: size }, (_, i) => ({
        client: MAKER + size - i,
        structs: [{ parent: 'rowPairs', content: values('p.~1') }],
      })),
    ),
  'many clients at one place, each before the last': (size) =>
    craftUpdate([
      { client: STRANGER + size, structs: [{ parent: 'rowPairs', content: values('p.~1', 'p.~2') }] },
      ...Array.from({ length: size - 1 }, (_, i) => ({
        client: STRANGER + size - 1 - i,
        structs: [
          {
            origin: [STRANGER + size, 0] as const,
            ...(i % 2 === 0 && { rightOrigin: [STRANGER + size, 1] as const }),
            content: values('p.~3'),
          },
        ],
      })),
    ]),
  'one key written over and over as if it were new': (size) =>
    craftUpdate([
      { client: MAKER, structs: many(size, () => ({ parent: 'meta', key: 'a', content: values(1) })) },
    ]),
  'a long past, and another behind its beginning': (size) =>
    craftUpdate([
      { client: STRANGER, structs: many(size, () => ({ origin: [MAKER, 0], content: values(1) })) },
      { client: MAKER, structs: past(2 * size) },
    ]),
  'from the first entry of a list to each of the others': (size) =>
    craftUpdate([
      {
        client: STRANGER,
        structs: many(size, (i) => ({
          origin: [MAKER, 0],
          rightOrigin: [MAKER, size - 1 - (i % (size - 1))],
          content: values('p.~2'),
        })),
      },
      {
        client: MAKER,
        structs: many(size, (i) =>
          i === 0
            ? { parent: 'rowPairs', content: values('p.~1') }
            : { origin: [MAKER, i - 1], content: values('p.~1') },
        ),
      },
    ]),
  'entries that become one, one by one': (size) =>
    craftUpdate([
      {
        client: MAKER,
        structs: many(size, (i) =>
          i === 0
            ? { parent: 'rowPairs', content: values('p.~1') }
            : { origin: [MAKER, i - 1], content: values('p.~1') },
        ),
      },
    ]),
  'one long struct taken apart by deletions': (size) =>
    craftUpdate(
      [
        {
          client: MAKER,
          structs: [{ parent: 'rowPairs', content: values(...Array.from({ length: size }, () => '')) }],
        },
      ],
      Array.from({ length: size >> 1 }, (_, i) => ({ client: MAKER, clock: 2 * i, length: 1 })),
    ),
};
