import { randomBytes } from 'node:crypto';
import { deflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { packKeychain, takeIn, unpackKeychain } from '../../../web/table/keychain-parcel.ts';
import { KeychainShelf } from '../../../web/table/keychain-shelf.ts';
import { keychain } from '../../support/keychain.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';

const BOARD = readBoard(LOPSIDED);
const TIED = ['band 1 0 0', 'band 1 0 1', 'band 1 1 0'];
const tied = (...at: readonly number[]) => new Set(at.map((i) => TIED[i]!));

/** The other device: what it packs of a keychain. */
async function sent(more: Parameters<typeof keychain>[1] = {}, board = BOARD): Promise<string> {
  const shelf = new KeychainShelf('b', new MapShelf());
  shelf.begin(keychain('one', { stage: 'tie', tied: tied(0, 1), ...more }), board);
  const text = await packKeychain(shelf, 'one');
  if (text === null) throw new TypeError('not packed');
  return text;
}

describe('a keychain that goes along', () => {
  it('[N80] arrives as it was packed, with the board it was begun with, in text that goes into an address or a body as it is', async () => {
    const text = await sent();
    expect(text).toMatch(/^[\w-]+$/);
    const parcel = await unpackKeychain(text);
    expect(parcel?.keychain).toEqual(keychain('one', { stage: 'tie', tied: tied(0, 1) }));
    expect(parcel?.board).toEqual(BOARD);
    expect(await packKeychain(new KeychainShelf('b', new MapShelf()), 'one')).toBeNull();
  });

  it('[N80] a large band with all of it tied is far below what may go along', async () => {
    // 12,000 knots that follow no rule, and half of them tied at random.
    let seed = 7;
    const next = (most: number): number => {
      seed = (seed * 1103515245 + 12345) & 0x7fffffff;
      return (seed >> 8) % most;
    };
    const rows = Array.from({ length: 400 }, (_, row) =>
      Array.from({ length: row % 2 === 0 ? 30 : 29 }, () => ['f', 'b', 'fb', 'bf'][next(4)]).join(' '),
    );
    const board = readBoard({ ...LOPSIDED, strings: Array.from({ length: 60 }, () => 'a'), rows });
    const all = rows.flatMap((row, r) => row.split(' ').map((_, k) => `band 1 ${r} ${k}`));
    const text = await sent({ tied: new Set(all.filter(() => next(2) === 0)) }, board);
    expect(text.length).toBeLessThan(65_536 / 2);
    expect((await unpackKeychain(text))?.board).toEqual(board);
  });

  it('[N80] what is none, or not whole, is not taken in', async () => {
    const text = await sent();
    for (const bad of [
      '',
      'no',
      '%%',
      text.slice(0, -9),
      `${text}~`,
      btoa('{"version":1}').replace(/=+$/, ''),
    ])
      expect(await unpackKeychain(bad), bad.slice(0, 12)).toBeNull();
  });

  it('[N81] a device that has it already goes on with the one that is further on; where both are, it keeps both', async () => {
    const parcel = (await unpackKeychain(await sent()))!;
    const cases = [
      { here: null, opens: 'one', kept: { one: tied(0, 1) } },
      { here: tied(0), opens: 'one', kept: { one: tied(0, 1) } },
      { here: tied(0, 1), opens: 'one', kept: { one: tied(0, 1) } },
      { here: tied(0, 1, 2), opens: 'one', kept: { one: tied(0, 1, 2) } },
      { here: tied(0, 2), opens: 'two', kept: { one: tied(0, 2), two: tied(0, 1) } },
    ];
    for (const { here, opens, kept } of cases) {
      const shelf = new KeychainShelf('b', new MapShelf());
      if (here !== null) shelf.begin(keychain('one', { tied: here }), BOARD);
      expect(takeIn(shelf, parcel, 'two')).toBe(opens);
      expect(Object.fromEntries(shelf.all().map((one) => [one.id, one.tied]))).toEqual(kept);
      expect(shelf.boardOf(opens)).toEqual(BOARD);
    }
  });

  it('[N81] [N4] where there is no room nothing is taken in, and what was there stays', async () => {
    const parcel = (await unpackKeychain(await sent()))!;
    const store = new MapShelf();
    const shelf = new KeychainShelf('b', store);
    store.isFull = true;
    expect([takeIn(shelf, parcel, 'two'), shelf.all()]).toEqual([null, []]);
    store.isFull = false;
    shelf.begin(keychain('one', { tied: tied(0) }), BOARD);
    const before = new Map(store.kept);
    // Room for the board, none for the keychain.
    const put = store.setItem.bind(store);
    let left = 1;
    store.setItem = (key, value) => {
      if (left-- === 0) throw new DOMException('full', 'QuotaExceededError');
      put(key, value);
    };
    expect(takeIn(shelf, parcel, 'two')).toBeNull();
    expect(store.kept).toEqual(before);
  });
});

describe('what comes along that this page did not pack', () => {
  const packed = (text: string): string => deflateRawSync(text).toString('base64url');

  it.each([
    ['nothing', packed('null')],
    ['a number', packed('7')],
    ['of another release', packed('{"version":2}')],
    ['no data', packed('not JSON')],
    ['text that is no base64', 'a'],
    ['text that grows without end', packed(' '.repeat(5 * 1024 * 1024))],
  ])('[N80] is not taken in: %s', async (_, text) => {
    expect(await unpackKeychain(text)).toBeNull();
  });

  it('[N80] is not sent where it is more than may go along', async () => {
    const shelf = (keychain: string): KeychainShelf => ({ written: () => ({ keychain }) }) as never;
    const random = randomBytes(60_000).toString('hex');
    expect(await packKeychain(shelf(random), 'one')).toBeNull();
    expect(await packKeychain(shelf(random.slice(0, 60_000)), 'one')).toMatch(/^[\w-]+$/);
  });
});
