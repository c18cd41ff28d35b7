/** The keychains of a set as the page shows them. */
import { beforeAll, describe, expect, it } from 'vitest';
import { type Board, planBoard } from '../../../engine/index.ts';
import { Keychains, keyOf, nameOfKeychain, namesIn } from '../../../web/set/keychains.ts';
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
});
