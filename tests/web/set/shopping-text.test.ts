/** The shopping list of a set in words. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, planBoard, shoppingList } from '../../../engine/index.ts';
import { Keychains } from '../../../web/set/keychains.ts';
import { costText, makersOf, nameOfThread, partsText, shoppingText } from '../../../web/set/shopping-text.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('set'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

function shopFor(more: Partial<Board['piece']> = {}, title = 'Kites') {
  const board = { ...sampleBoard(6, 4), title, piece: { ...sampleBoard().piece, ...more } };
  const keychains = new Keychains().read(board, 'normal', ((of: Board) => ({
    kind: 'found',
    plan: planBoard(of),
  })) as never);
  const list = shoppingList(board, [null, ...board.colourways], planBoard);
  return { board, keychains, list };
}

describe('a thread to buy', () => {
  it('is called by all its names, else by its code, and for whom it is', () => {
    const { list, keychains } = shopFor();
    const red = list.threads.find(({ hex }) => hex === '#cc2222')!;
    expect([nameOfThread(red), makersOf(red, keychains)]).toEqual(['red', 'The board’s own colours, second']);
    const moss = list.threads.find(({ hex }) => hex === '#446633')!;
    expect([nameOfThread(moss), makersOf(moss, keychains)]).toEqual(['moss', 'second']);
    expect(nameOfThread({ ...moss, names: ['', 'moss', 'fern'] })).toBe('moss, fern');
    expect(nameOfThread({ ...moss, names: [''] })).toBe('#446633');
    expect(makersOf(moss, keychains.slice(0, 1))).toBe('');
  });
});

describe('the list', () => {
  it('[Y12] has a line for each thread, then what else is needed', () => {
    const { board, list, keychains } = shopFor();
    const lines = shoppingText(board, list, keychains, 'mm').split('\n');
    expect(lines[0]).toBe('Shopping list for the set: Kites (2 keychains)');
    expect(lines.filter((line) => line.includes('×'))).toHaveLength(list.threads.length);
    expect(lines.find((line) => line.includes('moss (#446633)'))).toMatch(/mm in 1 string, for second$/);
    expect(lines.at(-2)).toBe(`${list.skeins} skeins, ${partsText(board, list)}`);
    const untitled = shopFor({}, '');
    expect(shoppingText(untitled.board, untitled.list, untitled.keychains, 'cm')).toMatch(
      /: Untitled board .* cm in /s,
    );
  });

  it('[Y12] rings or bars, one for each keychain', () => {
    const round = shopFor({ ring: 'round' });
    expect(partsText(round.board, round.list)).toBe('2 rings');
    const bars = shopFor({ ring: 'bar' } as never);
    expect(partsText(bars.board, bars.list)).toBe('2 bars');
  });

  it('[Y12] the price with what it is made of, of which each part may be unset', () => {
    const cost = (more: Partial<Board['piece']>): string | null => costText(shopFor(more).list);
    expect(cost({})).toBeNull();
    expect(cost({ skeinPrice: 2 })).toMatch(/^[\d.]+ \(thread [\d.]+\)$/);
    expect(cost({ partsPrice: 1.5 })).toBe('3.00 (parts 3.00)');
    expect(cost({ skeinPrice: 2, partsPrice: 1.5 })).toMatch(/\(thread [\d.]+, parts 3\.00\)$/);
    const { board, list, keychains } = shopFor({ partsPrice: 1.5 });
    expect(shoppingText(board, list, keychains, 'mm')).toMatch(/\nPrice: 3\.00 \(parts 3\.00\)\n$/);
  });
});
