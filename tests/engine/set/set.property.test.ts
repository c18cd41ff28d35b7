/** Colourways of random boards. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  type Board,
  type Colourway,
  cutList,
  dressBoard,
  markColourways,
  planBoard,
  planMount,
  shoppingList,
  weave,
} from '../../../engine/index.ts';
import { samplePattern } from '../../support/sample-board.ts';

const PALETTE = ['p', 'q', 'r', 's'] as const;
const HEXES = ['#1f6266', '#e8c98a', '#8a2d4f', '#efe8da', '#223344', '#99aa33'] as const;

const looks = fc.record(
  {
    p: fc.constantFrom(...HEXES),
    q: fc.constantFrom(...HEXES),
    r: fc.constantFrom(...HEXES),
    s: fc.constantFrom(...HEXES),
  },
  { requiredKeys: [], noNullPrototype: true },
);
const set = fc
  .record({
    strings: fc.array(fc.constantFrom(...PALETTE), { minLength: 2, maxLength: 9 }),
    rows: fc.integer({ min: 0, max: 6 }),
    start: fc.constantFrom<0 | 1>(0, 1),
    ways: fc.array(looks, { minLength: 1, maxLength: 4 }),
  })
  .map(
    ({ strings, rows, start, ways }): Board => ({
      title: '',
      palette: PALETTE.map((id, i) => ({ id, name: id, hex: HEXES[i]! })),
      pattern: { ...samplePattern(strings.length, rows, start), colours: strings },
      piece: { skeinPrice: 2, partsPrice: 1, hourlyRate: 6 },
      gauge: {},
      colourways: ways.map(
        (look, i): Colourway => ({
          id: `w${i}`,
          name: '',
          colours: Object.entries(look).map(([id, hex]) => ({ id, name: `${id}${i}`, hex: hex! })),
        }),
      ),
    }),
  );

test('[E1] every knot shows the colour that the colourway gives the string that shows there', () => {
  fc.assert(
    fc.property(set, (board) => {
      const { shownFlat } = weave(board.pattern);
      for (const way of board.colourways) {
        const dressed = dressBoard(board, way);
        const own = new Map(way.colours.map(({ id, hex }) => [id, hex]));
        const base = new Map(board.palette.map(({ id, hex }) => [id, hex]));
        const shown = new Map(dressed.palette.map(({ id, hex }) => [id, hex]));
        for (const string of shownFlat) {
          if (string < 0) continue;
          const id = board.pattern.colours[string]!;
          expect(shown.get(dressed.pattern.colours[string]!)).toBe(own.get(id) ?? base.get(id));
        }
        expect(new Set(dressed.palette.map(({ hex }) => hex)).size).toBe(dressed.palette.length);
      }
    }),
    { seed: 61, numRuns: 300 },
  );
});

test('[E2] [E3] marks are what the parts of the engine say of the dressed board', () => {
  const met = new Set<string>();
  fc.assert(
    fc.property(set, (board) => {
      markColourways(board, board.colourways, planBoard).forEach((marks, i) => {
        const dressed = dressBoard(board, board.colourways[i]!);
        expect(marks.board).toEqual(dressed);
        expect(marks.plan).toEqual(planMount(dressed.pattern.colours));
        const own = planMount(board.pattern.colours);
        // The board's own plan serves the dressed board too: its folds join places of one thread.
        for (const { left, right } of own.folds)
          expect(dressed.pattern.colours[left]).toBe(dressed.pattern.colours[right]);
        expect(marks.apart !== null).toBe(marks.plan!.crossings.length > own.crossings.length);
        if (marks.apart !== null) met.add('crosses more');
        if (marks.plan!.crossings.length < own.crossings.length) met.add('crosses less');
        if (marks.isFine) met.add('fine');
        if (marks.missing.length > 0) met.add('missing');
        if (marks.alike.length > 0) met.add('alike');
      });
    }),
    { seed: 62, numRuns: 600 },
  );
  expect([...met].sort()).toEqual(['alike', 'crosses less', 'crosses more', 'fine', 'missing']);
});

test('[L14] what the colourways cut one by one adds up to the set, thread by thread', () => {
  fc.assert(
    fc.property(set, (board) => {
      const makers = [null, ...board.colourways];
      const list = shoppingList(board, makers, planBoard);
      const cut = new Map<string, number>();
      let knots = 0;
      for (const maker of makers) {
        const dressed = dressBoard(board, maker);
        const own = cutList(dressed);
        knots += own.knots;
        for (const { colour, totalMm } of own.colours) {
          const { hex } = dressed.palette.find(({ id }) => id === colour)!;
          cut.set(hex, (cut.get(hex) ?? 0) + totalMm);
        }
      }
      const used = new Map<string, number>();
      for (const { hex, totalMm } of list.threads) used.set(hex, (used.get(hex) ?? 0) + totalMm);
      expect(used).toEqual(cut);
      for (const { shares, totalMm, pieces, wasteMm, skeins } of list.threads) {
        expect(shares.reduce((sum, share) => sum + share.totalMm, 0)).toBe(totalMm);
        expect(shares.reduce((sum, share) => sum + share.pieces, 0)).toBe(pieces);
        expect(totalMm + wasteMm).toBe(skeins * 8000);
      }
      expect(list.knots).toBe(knots);
      expect(list.toPay.all).toBeCloseTo(2 * list.skeins + makers.length);
      const cost = (2 * list.totalMm) / 8000 + makers.length + (6 * list.minutes.all) / 60;
      expect(list.price).toMatchObject({ kind: 'priced', price: expect.closeTo(cost, 9) });
    }),
    { seed: 63, numRuns: 300 },
  );
});
