/** A price in words: every term in sight, in both languages. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { priceOf } from '../../../engine/material/price.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { priceLine, priceRows, whyNoPrice } from '../../../web/words/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('price'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

const ONE = { thread: 2, parts: 1, minutes: 30, pieces: 1 };
const ALL = {
  hourlyRate: 12,
  wasteShare: 0.1,
  postPrice: 2.4,
  fixedFee: 0.4,
  marginShare: 0.3,
  feeShare: 0.1,
  taxShare: 0.19,
};

function rows(piece: Parameters<typeof priceOf>[0]): readonly string[] {
  const price = priceOf(piece, ONE);
  if (price.kind !== 'priced') throw new Error(price.kind);
  return priceRows(price).map(({ label, value, isSum }) => `${isSum ? '= ' : ''}${label}: ${value}`);
}

describe('the terms of a price', () => {
  it('[Y85] all that are stated stand in the order of the formula', () => {
    expect(rows(ALL)).toEqual([
      'Thread in it: 2.00',
      'Waste: 0.20',
      'Parts: 1.00',
      'Work: 6.00',
      'Post: 2.40',
      'Fixed fee: 0.40',
      '= Costs: 12.00',
      'Margin, 30 % of the price: 6.00',
      'Market, 10 % of the price: 2.00',
      '= Price: 20.00',
      'Tax, 19 % on top: 3.80',
      '= With tax: 23.80',
    ]);
  });

  it('[Y85] what is not stated is left out, and without shares costs are the price', () => {
    expect(rows({})).toEqual(['Thread in it: 2.00', 'Parts: 1.00', '= Price: 3.00']);
  });

  it('[Y85] in German too', async () => {
    await speak('de');
    expect(rows(ALL).slice(-4)).toEqual([
      'Marktplatz, 10 % vom Preis: 2,00',
      '= Preis: 20,00',
      'Steuer, 19 % obendrauf: 3,80',
      '= Mit Steuer: 23,80',
    ]);
    await speak('en');
  });

  it('[Y85] why there is no price is said', () => {
    expect(whyNoPrice(priceOf({}, ONE))).toBeNull();
    const nothing = priceOf({}, { thread: null, parts: null, minutes: 0, pieces: 1 });
    expect([whyNoPrice(nothing), priceLine(nothing)]).toEqual([
      expect.stringContaining('Give a price'),
      null,
    ]);
    expect(whyNoPrice(priceOf({ marginShare: 0.7, feeShare: 0.3 }, ONE))).toBe(
      'Margin and market are 100 % of the price: nothing is left for the costs.',
    );
  });
});
