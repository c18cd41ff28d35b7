/** Material and price on paper: the figures of the panel of the cost. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, lotOf, planBoard, shoppingList } from '../../../engine/index.ts';
import { cardOf } from '../../../web/paper/card.ts';
import { materialOf, soldFor } from '../../../web/paper/material.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { formatCut, formatPrice } from '../../../web/units/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { wordsOf } from '../../support/template-text.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('paper'), loadTexts('panels'), loadTexts('price')]);
});
afterAll(() => vi.unstubAllGlobals());

const PRICED: Board = {
  ...sampleBoard(6, 4),
  piece: { repeats: 8, hourlyRate: 12, skeinPrice: 1.5, pieces: 3, marginShare: 0.25 },
  supplies: {
    threads: [{ hex: '#cc2222', name: 'red', price: 2.1, haveMm: 900 }],
    parts: [{ id: 'r', kind: 'ring', price: 0.8 }],
  },
};
const said = (board: Board): string => wordsOf(materialOf(board, planBoard(board)));

describe('material on the sheet', () => {
  it('[B286] says what is used, comes from home and must be bought, and what one and all cost', () => {
    const list = shoppingList(PRICED, lotOf(PRICED, [null]), planBoard);
    if (list.price.kind !== 'priced' || list.batches[0]!.price.kind !== 'priced') throw new Error('no price');
    const text = said(PRICED);
    expect(text).toMatch(/^Material for 3 keychains/);
    for (const thread of list.threads) expect(text).toContain(`${formatCut(thread.totalMm, 'mm')} used`);
    const home = list.threads.find(({ fromHomeMm }) => fromHomeMm > 0)!;
    expect(text).toContain(`${formatCut(home.fromHomeMm, 'mm')} from home`);
    expect(text).toContain('3 × ring');
    expect(text).toContain(`${formatCut(list.boughtMm, 'mm')} bought`);
    expect(text).toContain(`To pay in the shop: ${formatPrice(list.toPay.all!)}.`);
    expect(text).toContain(`Price of one keychain: ${formatPrice(list.batches[0]!.price.price)} (`);
    expect(text).toContain(`For all 3: ${formatPrice(list.price.price)}`);
  });

  it('[B286] where nothing has a price it says none, and without a ring no ring', () => {
    const { supplies: _, ...board } = PRICED;
    const bare: Board = { ...board, piece: {} };
    expect(said(bare)).toMatch(/^Material for 1 keychain red: .* 1 × ring/);
    expect(said(bare)).not.toMatch(/Price|shop/);
    expect(said({ ...bare, piece: { begin: 'loose' } })).not.toMatch(/\bring\b/);
    expect(said({ ...bare, gauge: { cordMm: -1 } })).toMatch(/width/i);
  });

  it('[B286] the card says what it is sold for, with tax, and no price where nothing is said of selling', () => {
    const plan = planBoard(PRICED);
    const taxed: Board = { ...PRICED, piece: { ...PRICED.piece, taxShare: 0.19 } };
    const price = shoppingList(taxed, [null], () => plan).price;
    if (price.kind !== 'priced') throw new Error(price.kind);
    expect(soldFor(taxed, plan)).toBe(formatPrice(price.withTax));
    expect(wordsOf(cardOf(taxed, plan))).toContain(`Price: ${formatPrice(price.withTax)}`);
    const { marginShare: _, ...gift } = PRICED.piece;
    expect(soldFor({ ...PRICED, piece: gift }, plan)).toBeNull();
    expect(wordsOf(cardOf({ ...PRICED, piece: gift }, plan))).not.toContain('Price');
    expect(wordsOf(cardOf(taxed))).not.toContain('Price');
    expect(soldFor({ ...taxed, gauge: { cordMm: -1 } }, plan)).toBeNull();
  });
});
