/** The shopping list of a set in words. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, planBoard, shoppingList } from '../../../engine/index.ts';
import { Keychains } from '../../../web/set/keychains.ts';
import { makersOf, partText, shoppingText } from '../../../web/set/shopping-text.ts';
import { loadTexts, speak, t } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { nameOfThread, priceLine } from '../../../web/words/index.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('set'), loadTexts('panels'), loadTexts('price')]);
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
    expect(nameOfThread({ ...moss, names: ['moss', 'fern'] })).toBe('moss, fern');
    expect(nameOfThread({ ...moss, names: [] })).toBe('#446633');
    expect(makersOf(moss, keychains.slice(0, 1))).toBe('');
  });
});

describe('the list', () => {
  it('[Y12] has a line for each thread, then what else is needed', () => {
    const { board, list, keychains } = shopFor();
    const lines = shoppingText(board, list, keychains, 'mm').split('\n');
    expect(lines[0]).toBe('Shopping list for the set: Kites (2 keychains)');
    expect(lines.filter((line) => line.includes('×'))).toHaveLength(list.threads.length);
    expect(lines.find((line) => line.includes('moss (#446633)'))).toMatch(/mm in 1 cord · second$/);
    expect(lines.at(-3)).toBe(`${list.skeins} skeins, 2 bars`);
    expect(lines.at(-2)).toMatch(/^[\d,.]+ mm used, [\d,]+ mm bought\.$/);
    const untitled = shopFor({}, '');
    expect(shoppingText(untitled.board, untitled.list, untitled.keychains, 'cm')).toMatch(
      /: \d+ strings, \d+ rows .* cm in /s,
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
    expect(line).toMatch(/^\d+ × #112233: [\d,. ]+mm in 1 cord · Ada$/);
  });

  it('[Y12] rings or bars, one for each keychain, or what the lines of parts say', () => {
    const parts = (more: Partial<Board['piece']>, supplies?: Board['supplies']) => {
      const of = sampleBoard(6, 4);
      const shop = shopFor(more, 'Kites', supplies === undefined ? of : { ...of, supplies });
      return shop.list.parts.map((part) => partText(shop.board, part));
    };
    expect(parts({ ring: 'round' })).toEqual(['2 rings']);
    expect(parts({ ring: 'd-ring' })).toEqual(['2 bars']);
    const lines = [
      { id: 'a', kind: 'clasp' },
      { id: 'b', name: 'glass bead', count: 3, have: 2 },
    ] as const;
    expect(parts({}, { threads: [], parts: lines })).toEqual(['2 × clasp', '4 × glass bead · of 6']);
  });

  it('[Y85] the price with its terms, what must be paid in the shop, and each keychain’s own', () => {
    const line = (more: Partial<Board['piece']>): string | null => priceLine(shopFor(more).list.price);
    expect(line({})).toBeNull();
    expect(line({ skeinPrice: 2 })).toMatch(/^[\d.]+ \(Thread in it [\d.]+\)$/);
    expect(line({ partsPrice: 1.5 })).toBe('3.00 (Parts 3.00)');
    expect(line({ partsPrice: 1.5, marginShare: 0.25, taxShare: 0.1 })).toBe(
      '4.00 (Parts 3.00, Margin, 25 % of the price 1.00, Tax, 10 % on top 0.40)',
    );
    const { board, list, keychains } = shopFor({ partsPrice: 1.5, hourlyRate: 60 });
    const lines = shoppingText(board, list, keychains, 'mm').split('\n');
    expect(lines).toContain('To pay in the shop: 3.00');
    expect(lines.at(-2)).toMatch(/^1 × second: [\d.]+$/);
    expect(lines.find((one) => one.startsWith('Price: '))).toMatch(/Parts 3\.00, Work [\d.]+\)$/);
  });

  it('[Y85] what is at home stands beside the thread, and is not bought', () => {
    const of = sampleBoard(6, 4);
    const supplies = {
      threads: [{ hex: '#446633', name: 'moss', number: '17', haveMm: 20_000 }],
      parts: [],
    };
    const { board, list, keychains } = shopFor({}, 'Kites', { ...of, supplies });
    const line = shoppingText(board, list, keychains, 'mm')
      .split('\n')
      .find((one) => one.includes('moss'));
    expect(line).toMatch(/^0 × moss \(17, #446633\): ([\d,.]+ mm) in 1 cord · second · \1 from home$/);
  });
});
