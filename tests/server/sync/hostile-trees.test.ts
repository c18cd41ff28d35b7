/** Updates that decode well and hold what no document of ours is made of. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { readDesign } from '../../../engine/document/index.ts';
import {
  bytesContent,
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
} from '../../support/crafted-update.ts';
import { message, RawClient } from '../raw-client.ts';
import { makeBoard, startTestServer, type TestServer } from '../test-server.ts';

/** Above every client id that Yjs draws, so that what it writes would win. */
const STRANGER = 2 ** 32 + 7;
const [UPDATE, STEP_2] = [2, 1];

let server: TestServer;
let board: string;
let honest: RawClient;
let before: string;
const clients: RawClient[] = [];

function client(part = 'design'): RawClient {
  const made = new RawClient(`${server.ws}/${board}/${part}`);
  clients.push(made);
  return made;
}

async function stored(): Promise<string> {
  const rows = await server.store.load({ board, part: 'design' });
  return JSON.stringify(rows.map(({ seq, bytes }) => [seq, Buffer.from(bytes).toString('hex')]));
}

/** Sends it in both ways; each time the socket is closed, and neither the store nor anybody else hears of it. */
async function expectRefused(update: Uint8Array, what: string): Promise<void> {
  for (const kind of [UPDATE, STEP_2]) {
    const hostile = await client().join();
    // A made-up vector makes the server work the document out, so that what comes next waits unapplied.
    hostile.send(message(0, 0, Y.encodeStateVector(new Map([[5, 3]]))));
    hostile.send(message(0, kind, update));
    hostile.mark(1);
    expect(await hostile.closed, what).toBe(4400);
    expect(hostile.heard.some((one) => one.kind === 'saved')).toBe(false);
  }
  expect(await stored(), what).toBe(before);
  honest.mark(1);
  await honest.savedMark(1);
  expect(honest.heard.filter((one) => one.kind === 'update')).toEqual([]);
  expect(honest.closeCode).toBeNull();
}

/** Nothing is open any more, and the board opens again as it was. */
async function expectReopens(): Promise<void> {
  const title = readDesign(honest.doc).board.title;
  for (const one of clients.splice(0)) one.close();
  const late = await client().join();
  expect(late.doc.getMap('identity').get('name')).toBe(`${board}/design`);
  expect(readDesign(late.doc).board.title).toBe(title);
  late.edit((doc) => doc.getMap('knots').set('a.b:c:i', 2));
  late.mark(7);
  await late.savedMark(7);
}

/** Of a list's entries one that stands now, to build on. */
function anEntryOf(root: string): readonly [number, number] {
  const item = honest.doc.getArray(root)._start!;
  return [item.id.client, item.id.clock];
}

beforeEach(async () => {
  server = await startTestServer();
  board = await makeBoard(server);
  honest = await client().join();
  before = await stored();
});

afterEach(async () => {
  for (const one of clients.splice(0)) one.close();
  await server.close();
});

describe('trees', () => {
  it('[V250] 20,000 maps in each other, then the deletion of the top one, end nothing', async () => {
    const top: CraftedStruct = { parent: 'knots', key: 'a', content: sharedType(1) };
    const inner = Array.from(
      { length: 19_999 },
      (_, clock): CraftedStruct => ({ parent: [9, clock], key: 'a', content: sharedType(1) }),
    );
    const update = craftUpdate([{ client: 9, structs: [top, ...inner] }]);
    expect(update.length).toBeGreaterThan(150_000);
    await expectRefused(update, 'the maps');
    // The deletion alone builds on what is not there; where it is all that a client has, that is no honest one.
    const hostile = await client().join();
    hostile.send(message(0, STEP_2, craftUpdate([], [{ client: 9, clock: 0, length: 1 }])));
    expect(await hostile.closed).toBe(4400);
    await expectReopens();
  });

  // How deep decoding itself can go depends on the stack that is left; what it can read must be refused all the same.
  it.each([1, 500, 3_000, 8_000])('[V250] a key set to lists nested %i deep ends nothing', async (depth) => {
    const update = craftUpdate([
      { client: 9, structs: [{ parent: 'meta', key: 'a', content: rawValue(nestedLists(depth)) }] },
    ]);
    expect(update.length).toBeLessThan(17_000);
    await expectRefused(update, 'the lists');
    await expectReopens();
  });

  it('[V250] what hides in the prototype of a value is found', async () => {
    // `{"__proto__": {"x": lists}}`: reading it gives an object without fields of its own, writing it would walk down.
    const hidden = Uint8Array.from([
      118,
      1,
      9,
      ...Buffer.from('__proto__'),
      118,
      1,
      1,
      ...Buffer.from('x'),
      ...nestedLists(1_000),
    ]);
    await expectRefused(
      craftUpdate([{ client: 9, structs: [{ parent: 'knots', key: 'p', content: rawValue(hidden) }] }]),
      'hidden lists',
    );
  });
});

describe('the name of a document', () => {
  it('[V251] a deleted entry of another client does not take it away', async () => {
    await expectRefused(
      craftUpdate([
        { client: STRANGER, structs: [{ parent: 'identity', key: 'name', content: deleted(1) }] },
      ]),
      'a deleted name',
    );
    await expectReopens();
  });

  it('[V251] nor does anything else that is not the server’s own', async () => {
    const name = `${board}/design`;
    const own = honest.doc.getMap('identity')._map.get('name')!.id.client;
    const other = (key: string | undefined, content = values(name), client = STRANGER) =>
      craftUpdate([
        { client, structs: [{ parent: 'identity', ...(key === undefined ? {} : { key }), content }] },
      ]);
    const cases: readonly (readonly [string, Uint8Array])[] = [
      ['the same name again', other('name')],
      ['another key', other('also')],
      ['an entry of a list', other(undefined)],
      ['a name of a former kind', other('name', values(name, name))],
      [
        'a second struct of the server’s own client',
        craftUpdate([
          { client: own, clock: 1, structs: [{ parent: 'meta', key: 'title', content: values('x') }] },
        ]),
      ],
      [
        'one that builds on it',
        craftUpdate([{ client: STRANGER, structs: [{ origin: [own, 0], content: values(name) }] }]),
      ],
      [
        'one that stands left of it',
        craftUpdate([{ client: STRANGER, structs: [{ rightOrigin: [own, 0], content: values(name) }] }]),
      ],
      ['its deletion', craftUpdate([], [{ client: own, clock: 0, length: 1 }])],
    ];
    for (const [what, update] of cases) await expectRefused(update, what);
    await expectReopens();
  });
});

describe('what no document holds', () => {
  it('[V250] no content but plain values and what is left of them', async () => {
    for (const [name, content] of Object.entries({
      map: sharedType(1),
      list: sharedType(0),
      text: sharedType(2),
      characters: characters('abc'),
      format,
      embedded,
      json: json('1'),
      bytes: bytesContent(Uint8Array.of(1)),
      subdocument,
      collected: collected(2),
    })) {
      const keyed: CraftedStruct = { parent: 'meta', key: 'a', content };
      await expectRefused(craftUpdate([{ client: 9, structs: [keyed] }]), name);
      const behind: CraftedStruct = { origin: anEntryOf('rowPairs'), content };
      await expectRefused(craftUpdate([{ client: 9, structs: [behind] }]), `${name} behind a row`);
    }
  });

  it('[V250] each root keeps to its own kind, and there are no others', async () => {
    const base = { rows: 1, strings: 1, knots: Uint8Array.of(0) };
    const cases: readonly (readonly [string, CraftedStruct])[] = [
      ['another root', { parent: 'words', key: 'a', content: values(1) }],
      ['one whose name is long to say', { parent: '梅'.repeat(40), key: 'a', content: values(1) }],
      ['one whose name is no text', { parent: '🪢'.repeat(40).slice(1), key: 'a', content: values(1) }],
      ['a root of the talk', { parent: 'remarks', key: 'a:b:says', content: values(null) }],
      ['an entry without a key where keys are', { parent: 'meta', content: values(1) }],
      ['a key where entries are', { parent: 'rowPairs', key: 'a', content: values('p.~1') }],
      ['a long key', { parent: 'meta', key: 'k'.repeat(5_000), content: values(1) }],
      ['a long text', { parent: 'meta', key: 'a', content: values('x'.repeat(4_001)) }],
      ['a number among pairs', { parent: 'rowPairs', content: values(1) }],
      ['knots among colours', { parent: 'colours', key: 'p.a:0', content: values(base) }],
      ['a field that a base lacks', { parent: 'knots', key: 'p', content: values({ ...base, more: 1 }) }],
      ['a number that is none', { parent: 'meta', key: 'a', content: values(Number.NaN) }],
      ['nothing', { parent: 'meta', key: 'a', content: values(undefined) }],
      ['a big number', { parent: 'meta', key: 'a', content: values(5n) }],
      ['a list as meta', { parent: 'meta', key: 'a', content: values(['x']) }],
      ['one good and one bad', { parent: 'rowPairs', content: values('p.~1', 7) }],
      // The parent of these stands in no byte of theirs.
      ['a base behind a row', { origin: anEntryOf('rowPairs'), content: values(base) }],
      ['a base before a row', { rightOrigin: anEntryOf('rowPairs'), content: values(base) }],
      [
        'between two lists',
        {
          origin: anEntryOf('rowPairs'),
          rightOrigin: anEntryOf('stringPairs'),
          content: values('p.~1'),
        },
      ],
    ];
    for (const [what, struct] of cases)
      await expectRefused(craftUpdate([{ client: 9, structs: [struct] }]), what);
  });

  it('[V250] a parent is looked for through other structs of the same update, in whatever order', async () => {
    const base = values({ rows: 1, strings: 1, knots: Uint8Array.of(0) });
    const good: CraftedStruct = { parent: 'rowPairs', content: values('p.~1') };
    await expectRefused(
      craftUpdate([
        {
          client: 9,
          structs: [good, { origin: [9, 0], content: values('p.~2') }, { origin: [9, 1], content: base }],
        },
      ]),
      'behind its own',
    );
    await expectRefused(
      craftUpdate([
        { client: 12, structs: [{ origin: [11, 0], content: base }] },
        { client: 11, structs: [{ origin: [10, 0], content: values('p.~2') }] },
        { client: 10, structs: [good] },
      ]),
      'behind later ones',
    );
    await expectRefused(
      craftUpdate([
        { client: 12, structs: [{ origin: [11, 0], content: values('p.~1') }] },
        { client: 11, structs: [{ origin: [12, 0], content: values('p.~2') }] },
      ]),
      'in a circle',
    );
    // The same with good values comes in, and what builds on it later too.
    const late = await client().join();
    late.send(
      message(
        0,
        UPDATE,
        craftUpdate([
          { client: 12, structs: [{ origin: [11, 0], content: values('p.~3') }] },
          { client: 11, structs: [{ origin: [10, 0], content: values('p.~2') }] },
          { client: 10, structs: [good] },
        ]),
      ),
    );
    late.send(
      message(
        0,
        UPDATE,
        craftUpdate([{ client: 12, clock: 1, structs: [{ origin: [12, 0], content: values('p.~4') }] }]),
      ),
    );
    late.mark(1);
    await late.savedMark(1);
    late.send(
      message(
        0,
        UPDATE,
        craftUpdate([{ client: 12, clock: 2, structs: [{ origin: [12, 1], content: base }] }]),
      ),
    );
    expect(await late.closed).toBe(4400);
  });

  it('[V250] a struct does not go on in another root than it began', async () => {
    const begun = await client().join();
    begun.send(
      message(
        0,
        UPDATE,
        craftUpdate([{ client: 9, structs: [{ parent: 'colours', key: 'p.a:0', content: values('a') }] }]),
      ),
    );
    begun.mark(1);
    await begun.savedMark(1);
    // Everybody has heard of that one.
    await honest.waitFor((one) => one.kind === 'update');
    honest.heard.length = 0;
    before = await stored();
    await expectRefused(
      craftUpdate([{ client: 9, structs: [{ parent: 'rowPairs', content: values('p.~1', 'p.~2') }] }]),
      'other roots',
    );
  });

  it('[V250] a client whose structs come in two blocks, or in an empty one, is refused', async () => {
    const one: CraftedStruct = { parent: 'meta', key: 'a', content: values(1) };
    await expectRefused(
      craftUpdate([
        { client: 9, structs: [one] },
        { client: 9, clock: 1, structs: [one] },
      ]),
      'two blocks',
    );
    // Yjs would take the empty one for all there is, after the first has been counted.
    await expectRefused(
      craftUpdate([
        { client: 9, structs: [one] },
        { client: 9, structs: [] },
      ]),
      'an empty block',
    );
  });
});
