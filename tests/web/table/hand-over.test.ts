import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { codePath } from '../../../web/table/code-drawing.ts';
import {
  addressOfCode,
  codeIn,
  giveCode,
  isOwnMachine,
  reachableOrigins,
} from '../../../web/table/hand-over.ts';
import { packKeychain } from '../../../web/table/keychain-parcel.ts';
import { KeychainShelf } from '../../../web/table/keychain-shelf.ts';
import { takeOver } from '../../../web/table/take-over.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { keychain } from '../../support/keychain.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { LOPSIDED, readBoard } from '../../support/own-board.ts';
import { refusal, stubVisitedPage } from '../../support/visited-page.ts';

const CODE = 'Ab-_'.repeat(8);
const PATH = '/api/boards/kites/hand-over';
let page: ReturnType<typeof stubVisitedPage>;

beforeEach(async () => {
  page = stubVisitedPage();
  await loadTexts('share');
});
afterEach(() => vi.unstubAllGlobals());

describe('going on on a phone', () => {
  it('[N80] the address of a code has it behind the #, and nothing else is taken for one, nor it for a link', () => {
    const address = new URL(addressOfCode('http://192.0.2.7:8080', 'kites', CODE));
    expect([address.pathname, address.search, codeIn(address.hash)]).toEqual([
      '/board/kites/table',
      '',
      CODE,
    ]);
    for (const hash of ['', '#on=', `#${CODE}`, `#on=${CODE}x`, `#on=${CODE.slice(1)}`])
      expect(codeIn(hash), hash).toBeNull();
  });

  it('[N82] an address that means this machine alone is none that a phone can open: the server is asked for others', async () => {
    for (const hostname of ['localhost', 'a.localhost', '127.0.0.1', '127.1.2.3', '[::1]'])
      expect(isOwnMachine(hostname), hostname).toBe(true);
    for (const hostname of ['192.0.2.7', 'table.example', '127.example', 'localhost.example'])
      expect(isOwnMachine(hostname), hostname).toBe(false);
    const at = (origin: string) => reachableOrigins('kites', new URL(origin));
    expect(await at('https://table.example')).toEqual(['https://table.example']);
    expect(page.asked).toEqual([]);
    page.answers.set(PATH, { addresses: [] });
    expect(await at('http://127.0.0.1:8080')).toEqual([]);
    page.answers.set(PATH, { addresses: ['http://192.0.2.7:8080'] });
    expect(await at('http://localhost:8080')).toEqual(['http://192.0.2.7:8080']);
  });

  it('[N80] a code is asked for with what goes along, and brings it in on the phone', async () => {
    const board = readBoard(LOPSIDED);
    const laptop = new KeychainShelf('kites', new MapShelf());
    laptop.begin(keychain('one', { tied: new Set(['band 1 0 0']) }), board);
    const carried = (await packKeychain(laptop, 'one'))!;
    page.answers.set(PATH, { code: CODE, endsAt: 7 });
    expect(await giveCode('kites', carried)).toEqual({ code: CODE, endsAt: 7 });
    expect(page.asked).toEqual([`POST ${PATH} ${JSON.stringify({ carried })}`]);
    page.answers.set(`${PATH}/take`, { role: 'onlooker', endsAt: null, carried });
    const phone = new KeychainShelf('kites', new MapShelf());
    expect(await takeOver('kites', phone, CODE, 'new')).toEqual({ kind: 'here', id: 'one' });
    expect(phone.find('one')?.tied).toEqual(new Set(['band 1 0 0']));
    const full = new MapShelf();
    full.isFull = true;
    expect(await takeOver('kites', new KeychainShelf('kites', full), CODE, 'new')).toEqual({ kind: 'full' });
  });

  it('[N80] a code that works no more, a server that is away, and what cannot be read are each said', async () => {
    const shelf = new KeychainShelf('kites', new MapShelf());
    const said = async () => {
      const arrival = await takeOver('kites', shelf, CODE, 'new');
      return arrival.kind === 'said' ? arrival.sentence : arrival.kind;
    };
    page.answers.set(`${PATH}/take`, refusal(404, 'unknown-link'));
    expect(await said()).toContain('works no more');
    page.answers.delete(`${PATH}/take`);
    expect(await said()).toMatch(/^There is no code: .+/);
    page.answers.set(`${PATH}/take`, { role: 'onlooker', endsAt: null, carried: 'xx' });
    expect(await said()).toContain('cannot be read here');
    expect(shelf.all()).toEqual([]);
  });

  it('[N80] the drawing has the three corner marks, and four empty modules round them', () => {
    const { d, size } = codePath(addressOfCode('https://table.example', 'kites', CODE));
    const dark = new Set<string>();
    for (const [, x, y, length] of d.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g))
      for (let i = 0; i < Number(length); i++) dark.add(`${Number(x) + i} ${y}`);
    const at = [...dark].map((one) => one.split(' ').map(Number) as [number, number]);
    expect(Math.min(...at.flat())).toBe(4);
    expect(Math.max(...at.flat())).toBe(size - 5);
    // ISO/IEC 18004: 21 modules and four more for each version; a mark is 7 wide: dark, light, three dark.
    expect((size - 8 - 21) % 4).toBe(0);
    const mark = ['1111111', '1000001', '1011101', '1011101', '1011101', '1000001', '1111111'];
    for (const [left, top] of [
      [4, 4],
      [size - 11, 4],
      [4, size - 11],
    ] as const)
      expect(
        mark.map((_, y) => mark.map((__, x) => (dark.has(`${left + x} ${top + y}`) ? 1 : 0)).join('')),
      ).toEqual(mark);
  });
});
