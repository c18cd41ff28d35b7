/**
 * Updates that decode well, from a seed: hostile trees, which no document is made of, and structs of every kind at random
 * places, some of which a document may hold.
 */
import type * as Y from 'yjs';
import { IDENTITY_ROOT } from '../../engine/document/index.ts';
import {
  bytesContent,
  type CraftedBlock,
  type CraftedContent,
  type CraftedStruct,
  characters,
  collected,
  craftUpdate,
  deleted,
  embedded,
  format,
  json,
  nestedLists,
  rawValue,
  sharedType,
  subdocument,
  values,
} from './crafted-update.ts';
import type { SeededRandom } from './seeded-random.ts';

/** A struct by client and clock. */
export type StructId = readonly [client: number, clock: number];

/** What is known of the document that they are made for. */
export interface Target {
  /** Under which its name stands. */
  readonly nameClient: number;
  /** Structs that it holds, by the root in which they stand. */
  readonly structs: Readonly<Record<string, readonly StructId[]>>;
}

const LISTS = ['rowPairs', 'stringPairs', 'paletteOrder'] as const;
const MAPS = ['meta', 'knots', 'colours', 'palette', 'colourways'] as const;

/** Client ids from 1; those above 2^32 are such as Yjs never draws. */
const anyClient = (random: SeededRandom): number => 1 + random.below(random.chance(0.2) ? 2 ** 45 : 2 ** 32);

const one = (client: number, ...structs: readonly CraftedStruct[]): Uint8Array =>
  craftUpdate([{ client, structs }]);

/** A value that its root may hold. */
function goodValue(root: string, random: SeededRandom): CraftedContent {
  switch (root) {
    case 'meta':
      return values(random.pick([null, true, random.below(9), 'w'.repeat(random.below(30))]));
    case 'knots':
      return values(
        random.chance(0.8)
          ? random.below(5)
          : { rows: 1, strings: 1, knots: new Uint8Array(random.below(9)) },
      );
    case 'colourways':
      return values(random.pick([null, random.below(9), 'a way', { id: 'a', order: random.below(9) }]));
    case 'rowPairs':
    case 'stringPairs':
    case 'paletteOrder':
      return values(...Array.from({ length: 1 + random.below(3) }, () => `p.~${random.below(99)}`));
    default:
      return values('a');
  }
}

/** Content that no root holds. */
function badContent(random: SeededRandom): CraftedContent {
  return random.pick([
    sharedType(random.below(3)),
    characters('abc'),
    format,
    embedded,
    json('1', '{}'),
    bytesContent(Uint8Array.of(1, 2)),
    subdocument,
    collected(1 + random.below(4)),
    rawValue(nestedLists(1 + random.below(60))),
    hiddenField(random),
    values(undefined),
    values(5n),
    values(Number.NaN),
  ]);
}

/** A field `__proto__`, which is no field of the object that is read: whoever writes that again would walk down there. */
function hiddenField(random: SeededRandom): CraftedContent {
  return rawValue(
    Uint8Array.from([118, 1, 9, ...Buffer.from('__proto__'), ...nestedLists(1 + random.below(900))]),
  );
}

/** Where a struct may stand: in a root of its own naming, or behind or before one that is there. */
function anyPlace(
  root: string,
  target: Target,
  own: readonly StructId[],
  random: SeededRandom,
): Omit<CraftedStruct, 'content'> {
  const isList = (LISTS as readonly string[]).includes(root);
  const there = [...(target.structs[root] ?? []), ...own];
  const named = isList ? { parent: root } : { parent: root, key: `k${random.below(4)}` };
  if (there.length === 0 || random.chance(0.3)) return named;
  const origin = random.pick(there);
  if (!isList) return { origin };
  const rightOrigin = random.pick(there);
  return random.pick([{ origin }, { rightOrigin }, { origin, rightOrigin }]);
}

/**
 * Structs in the roots of a design, of a few clients, building on each other and on what is there; deletions with them.
 * @param spoiltShare how likely a struct holds what its root does not
 */
export function anyStructs(target: Target, random: SeededRandom, spoiltShare: number): Uint8Array {
  const made: Record<string, StructId[]> = {};
  const blocks: CraftedBlock[] = [];
  for (let n = 1 + random.below(3); n > 0; n -= 1) {
    const client = anyClient(random);
    const structs: CraftedStruct[] = [];
    let clock = 0;
    for (let i = 1 + random.below(6); i > 0; i -= 1) {
      const root = random.pick([...LISTS, ...MAPS]);
      made[root] ??= [];
      const own = made[root];
      const isSpoilt = random.chance(spoiltShare);
      const place = anyPlace(root, target, own, random);
      const good = random.chance(0.2) ? deleted(1 + random.below(3)) : goodValue(root, random);
      const content = isSpoilt ? badContent(random) : good;
      structs.push({ ...place, content });
      own.push([client, clock]);
      clock += content.length ?? 1;
    }
    blocks.push({ client, structs });
  }
  // As every encoder writes them.
  blocks.sort((a, b) => b.client - a.client);
  const there = Object.values(target.structs).flat();
  const gone = random.chance(0.3) && there.length > 0 ? [random.pick(there)] : [];
  return craftUpdate(
    blocks,
    gone.map(([client, clock]) => ({ client, clock, length: 1 })),
  );
}

/** Each gives an update that decodes and that no document takes. */
export const HOSTILE_UPDATES: Readonly<Record<string, (target: Target, random: SeededRandom) => Uint8Array>> =
  {
    'maps in each other': (_, random) => {
      const client = anyClient(random);
      const depth = 1 + random.below(2_000);
      const inner = Array.from(
        { length: depth },
        (__, clock): CraftedStruct => ({ parent: [client, clock], key: 'a', content: sharedType(1) }),
      );
      const structs: CraftedStruct[] = [{ parent: 'knots', key: 'a', content: sharedType(1) }, ...inner];
      const isGone = random.chance(0.5);
      return craftUpdate([{ client, structs }], isGone ? [{ client, clock: 0, length: 1 }] : []);
    },
    'lists in each other': (_, random) =>
      one(anyClient(random), {
        parent: random.pick(MAPS),
        key: 'a',
        content: rawValue(nestedLists(1 + random.below(8_000))),
      }),
    'a deletion under identity': (_, random) =>
      one(anyClient(random), { parent: 'identity', key: 'name', content: deleted(1 + random.below(3)) }),
    'the deletion of the name': ({ nameClient }) =>
      craftUpdate([], [{ client: nameClient, clock: 0, length: 1 }]),
    'beside the name': ({ nameClient }, random) =>
      one(
        random.chance(0.5) ? nameClient : anyClient(random),
        random.pick<CraftedStruct>([
          { origin: [nameClient, 0], content: values('b/design') },
          { rightOrigin: [nameClient, 0], content: deleted(1) },
          { parent: 'identity', key: 'also', content: values('b/design') },
        ]),
      ),
    'another root': (_, random) =>
      one(anyClient(random), {
        parent: random.pick(['words', 'threads', 'remarks', '', '__proto__', 'constructor']),
        key: 'a',
        content: goodValue('meta', random),
      }),
    'a root of another kind': (_, random) =>
      one(
        anyClient(random),
        random.chance(0.5)
          ? { parent: random.pick(LISTS), key: 'a', content: values('p.~1') }
          : { parent: random.pick(MAPS), content: values('a') },
      ),
    'a __proto__ field': (_, random) =>
      one(anyClient(random), { parent: random.pick(MAPS), key: 'a', content: hiddenField(random) }),
    'valid structs and one that is none': (target, random) => {
      const client = anyClient(random);
      const good = Array.from({ length: random.below(8) }, (_, i): CraftedStruct => {
        const root = random.pick(MAPS);
        return { parent: root, key: `k${i}`, content: goodValue(root, random) };
      });
      const [origin] = random.shuffle(target.structs.rowPairs ?? []);
      const bad: CraftedStruct =
        origin !== undefined && random.chance(0.5)
          ? { origin, content: badContent(random) }
          : { parent: random.pick(MAPS), key: 'a', content: badContent(random) };
      return one(client, ...random.shuffle([...good, bad]));
    },
  };

/** What a design holds, for {@link anyStructs}. */
export function targetOf(design: Y.Doc): Target {
  const name = design.getMap(IDENTITY_ROOT)._map.get('name');
  if (name === undefined) throw new TypeError('the design has no name');
  const structs: Record<string, StructId[]> = {};
  for (const root of MAPS)
    structs[root] = [...design.getMap(root)._map.values()].map(({ id }) => [id.client, id.clock]);
  for (const root of LISTS) {
    structs[root] = [];
    for (let item = design.getArray(root)._start; item !== null; item = item.right)
      for (let i = 0; i < item.length; i += 1) structs[root].push([item.id.client, item.id.clock + i]);
  }
  return { nameClient: name.id.client, structs };
}
