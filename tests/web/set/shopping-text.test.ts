/** The shopping list of a set in words. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, planBoard, shoppingList } from '../../../engine/index.ts';
import { Keychains } from '../../../web/set/keychains.ts';
import { costText, makersOf, nameOfThread, partsText, shoppingText } from '../../../web/set/shopping-text.ts';
import { loadTexts, speak, t } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('set'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

function shopFor(more: Partial<Board['piece']> = {}, title = 'Kites', of: Board = sampleBoard(6, 4)) {
  const board = { ...of, title, piece: { ...of.piece, ...more } };
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
    expect(nameOfThread({ ...moss, names: ['#446633', 'moss'] })).toBe('moss');
    expect(makersOf(moss, keychains.slice(0, 1))).toBe('');
  });
});

describe('the list', () => {
  it('[Y12] has a line for each thread, then what else is needed', () => {
    const { board, list, keychains } = shopFor();
    const lines = shoppingText(board, list, keychains, 'mm').split('\n');
    expect(lines[0]).toBe('Shopping list for the set: Kites (2 keychains)');
    expect(lines.filter((line) => line.includes('×'))).toHaveLength(list.threads.length);
    expect(lines.find((line) => line.includes('moss (#446633)'))).toMatch(/mm in 1 string · second$/);
    expect(lines.at(-2)).toBe(`${list.skeins} skeins, ${partsText(board, list)}`);
    const untitled = shopFor({}, '');
    expect(shoppingText(untitled.board, untitled.list, untitled.keychains, 'cm')).toMatch(
      /: Untitled board .* cm in /s,
    );
  });

  it.each(['en', 'de'] as const)(
    '[W974] %s: says no “for” before the names of keychains that say it',
    async (language) => {
      await speak(language);
      const { board, list, keychains } = shopFor();
      const called = keychains.map((one) =>
        one.colourway === null
          ? one
          : { ...one, colourway: { ...one.colourway, name: t('set.nameMine', { name: 'Ada' }) } },
      );
      const text = shoppingText(board, list, called, 'mm');
      expect(text).toContain(t('set.nameMine', { name: 'Ada' }));
      expect(text).not.toMatch(/\b(for|für)[:,]?\s+(for|für)\b/i);
      expect(t('set.shop.for')).not.toMatch(/^(for|für)$/i);
      await speak('en');
    },
  );

  it('[W971] a thread without a name stands by its code, once', () => {
    const board = { ...sampleBoard(6, 4), title: 'Kites' };
    const way = { id: 'x', name: 'Ada', colours: [{ id: 'g', name: 'green', hex: '#112233' }] };
    const { list, keychains } = shopFor({}, 'Kites', { ...board, colourways: [way] });
    const line = shoppingText(board, list, keychains, 'mm')
      .split('\n')
      .find((one) => one.includes('#112233'));
    expect(line).toMatch(/^\d+ × #112233: [\d,. ]+mm in 1 string · Ada$/);
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
