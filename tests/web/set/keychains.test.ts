/** The keychains of a set as the page shows them. */
import { beforeAll, describe, expect, it } from 'vitest';
import { type Board, planBoard } from '../../../engine/index.ts';
import {
  Keychains,
  keyOf,
  nameOfKeychain,
  namesIn,
  placesIn,
  sharedName,
  toBeMade,
  unnamedIn,
} from '../../../web/set/keychains.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeAll(() => loadTexts('set'));

const board = sampleBoard(6, 4);
const found = (of: Parameters<typeof planBoard>[0]) => ({ kind: 'found', plan: planBoard(of) }) as const;
const reading = (of: Board, keychains = new Keychains()) => keychains.read(of, 'normal', found as never);

describe('the keychains of a set', () => {
  it('[Y1] are the board’s own colours and then each colourway', () => {
    const [own, second] = reading(board);
    expect([keyOf(own!), nameOfKeychain(own!)]).toEqual(['', 'The board’s own colours']);
    expect([keyOf(second!), nameOfKeychain(second!)]).toEqual(['w', 'second']);
    const nameless = { ...board, colourways: [{ ...board.colourways[0]!, name: '' }] };
    expect(nameOfKeychain(reading(nameless)[1]!)).toBe('without a name');
  });

  it('[Y11] each is in its own colours and names', () => {
    const [own, second] = reading(board);
    expect([own!.model!.hexes[1], second!.model!.hexes[1]]).toEqual(['#22aa44', '#446633']);
    expect(namesIn(second!, ['g', 'r'])).toBe('moss, red');
    expect(namesIn(second!, ['g', 'g', 'lost'])).toBe('moss, lost');
  });

  it('are seen as the eye sees them that looks', () => {
    const keychains = new Keychains();
    const usual = keychains.read(board, 'normal', found as never)[0]!.model!.hexes;
    const other = keychains.read(board, 'deutan', found as never)[0]!.model!.hexes;
    expect(other).not.toEqual(usual);
  });

  it('are the same objects until the board is another', () => {
    const keychains = new Keychains();
    const first = reading(board, keychains);
    expect(reading(board, keychains)).toBe(first);
    const recoloured = { ...board, palette: board.palette.map((one) => ({ ...one, hex: '#111111' })) };
    const second = reading(recoloured, keychains);
    expect(second).not.toBe(first);
    // The knots are those of before, so their picture is not woven again.
    expect(second[0]!.model!.shown).toBe(first[0]!.model!.shown);
    const longer = reading({ ...board, piece: { ...board.piece, repeats: 3 } }, keychains);
    expect(longer[0]!.model!.shown).not.toBe(first[0]!.model!.shown);
  });

  it('[B120] are read again as long as a plan is not known', () => {
    const keychains = new Keychains();
    const looking = keychains.read(board, 'normal', () => ({ kind: 'looking' }) as never);
    expect(looking[0]!.marks.plan).toBeNull();
    expect(reading(board, keychains)[0]!.marks.plan).not.toBeNull();
  });

  it('have no picture where a field of the board is out of range', () => {
    expect(reading({ ...board, gauge: { cordMm: -1 } }).map(({ model }) => model)).toEqual([null, null]);
  });

  it('[W973] that are to be made: those of somebody; the board’s own colours only while there is no other', () => {
    const both = reading(board);
    expect(toBeMade(both)).toEqual([both[1]]);
    const alone = reading({ ...board, colourways: [] });
    expect(toBeMade(alone)).toEqual(alone);
  });

  /** Two colourways of the board, each with a look of its green. */
  function two(first: string, second: string, hexes: readonly [string, string]) {
    const way = (id: string, name: string, hex: string) => ({
      id,
      name: id,
      colours: [{ id: 'g', name, hex }],
    });
    return reading({ ...board, colourways: [way('Ada', first, hexes[0]), way('Bo', second, hexes[1])] });
  }

  it('[W971] know which threads need a name of their own, and call them by their code', () => {
    const [own, ada, bo] = two('green', 'moss', ['#112233', '#446633']);
    expect(unnamedIn(own!)).toEqual([]);
    expect(unnamedIn(ada!).map(({ id }) => id)).toEqual(['g']);
    expect(unnamedIn(bo!)).toEqual([]);
    expect([namesIn(ada!, ['g', 'r']), namesIn(bo!, ['g'])]).toEqual(['#112233, red', 'moss']);
    // Where it is told which colours of the board became one thread, they are still those of the board.
    expect(placesIn(ada!, ['g', 'r'])).toBe('green, red');
  });

  it('[W972] know whether a name is another colour elsewhere; the same colour, none and the board’s are no matter', () => {
    const nameOf = (keychains: ReturnType<typeof reading>, at: number) => {
      const keychain = keychains[at]!;
      return sharedName(keychain.looks.find(({ id }) => id === 'g')!, keychain, keychains);
    };
    const other = two('moss', 'moss', ['#446633', '#778833']);
    expect([nameOf(other, 1), nameOf(other, 2)]).toEqual(['Bo', 'Ada']);
    const same = two('moss', 'moss', ['#446633', '#446633']);
    expect([nameOf(same, 0), nameOf(same, 1)]).toEqual([null, null]);
    const bare = two('', '', ['#446633', '#778833']);
    expect([nameOf(bare, 1), nameOf(bare, 2)]).toEqual([null, null]);
  });
});
