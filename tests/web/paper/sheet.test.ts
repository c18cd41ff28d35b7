/** The working sheet and the card: which parts, and what each says of the board. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, patternFromText, planBoard } from '../../../engine/index.ts';
import { cardOf } from '../../../web/paper/card.ts';
import { SHEET_PARTS, type SheetPart, sheetOf } from '../../../web/paper/sheet.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { markupOf, wordsOf } from '../../support/template-text.ts';

beforeAll(async () => {
  stubPage();
  await Promise.all([loadTexts('paper'), loadTexts('panels'), loadTexts('price')]);
});
afterAll(() => vi.unstubAllGlobals());

const board = sampleBoard(6, 4);
const found = (of: Board) => ({ kind: 'found', plan: planBoard(of) }) as Parameters<typeof sheetOf>[2];
const sheet = (parts: readonly SheetPart[], of: Board = board, state = found(of)): string =>
  wordsOf(sheetOf(of, new Set(parts), state));
const LOOKING = { kind: 'looking' } as Parameters<typeof sheetOf>[2];

describe('the working sheet', () => {
  it('has its title, and the parts that were chosen in one order', () => {
    expect(sheet([])).toBe('Test input');
    expect(sheet([], { ...board, title: '' })).toBe('6 strings, 4 rows');
    const headings = [
      ...markupOf(sheetOf(board, new Set([...SHEET_PARTS].reverse()), found(board))).matchAll(
        /<h2>(.*?)<\/h2>/g,
      ),
    ];
    expect(headings.length).toBeGreaterThanOrEqual(5);
    expect(sheet(['cautions', 'chart'])).toMatch(/^Test input.*Chart.*/s);
  });

  it('says how large the band is, and that the picture is shortened where it is', () => {
    expect(sheet(['picture'])).toMatch(/6 strings/);
    expect(sheet(['picture'])).toContain('red green blue');
    const long = sheet(['picture'], { ...board, piece: { repeats: 90 } });
    expect(long.length).toBeGreaterThan(sheet(['picture']).length);
    expect(long).toMatch(/200/);
    expect(sheet(['picture'], { ...board, gauge: { cordMm: -1 } })).not.toContain('6 strings');
  });

  it('shows what the makers wrote, and nothing where they wrote nothing', () => {
    expect(sheet(['notes'])).toBe('Test input');
    expect(sheet(['notes'], { ...board, piece: { notes: ' \n ' } })).toBe('Test input');
    expect(sheet(['notes'], { ...board, piece: { notes: ' for Mara ' } })).toMatch(/for Mara$/);
  });

  it('says how it mounts; as long as that is not known, that it is looked for', () => {
    const crossing = { ...board, pattern: patternFromText(['r', 'g', 'r', 'g'], ['f f']) };
    const neat = { ...board, pattern: patternFromText(['r', 'g', 'g', 'r'], ['f f']) };
    expect(sheet(['mounting'], neat)).toContain('Mounts with a neat back');
    expect(sheet(['mounting'], crossing)).not.toContain('Mounts with a neat back');
    for (const part of ['mounting', 'cutting'] as const) {
      expect(markupOf(sheetOf(neat, new Set([part]), found(neat)))).toMatch(
        part === 'mounting' ? /<svg/ : /<table/,
      );
      expect(markupOf(sheetOf(neat, new Set([part]), LOOKING))).not.toMatch(/<svg|<table/);
    }
  });

  it('[B283] without a ring it says how it begins and how the strings lie, and nothing of mounting', () => {
    const crossing = { ...board, pattern: patternFromText(['r', 'g', 'r', 'g', 'g'], ['f f', 'f f']) };
    for (const [begin, says] of [
      ['loose', 'leave 120 mm above the first row'],
      ['stick', 'once round a stick with 120 mm above it'],
      ['loop', 'into one loop 15 mm high. Tie an overhand knot below it.'],
    ] as const) {
      const of: Board = { ...crossing, piece: { begin } };
      const said = sheet(['mounting'], of);
      expect(said).toContain(says);
      expect(said).toContain('red: place 1 green: place 2 red: place 3 green: places 4 to 5');
      expect(said).not.toMatch(/mount|neat|cross|arcs|\bbar\b|\bring\b/i);
      expect(markupOf(sheetOf(of, new Set(['mounting']), found(of)))).not.toMatch(/<svg/);
      const cutting = sheet(['cutting'], of);
      if (begin === 'loop') {
        expect(cutting).toContain('Left, to the fold');
        expect(cutting).toMatch(/3 green 5 .* single/);
      } else {
        expect(cutting).not.toMatch(/fold|single/i);
        expect(markupOf(sheetOf(of, new Set(['cutting']), found(of))).match(/<tr><td>/g)).toHaveLength(5);
      }
    }
  });

  it('[B283] without a ring colours without a name go by their look, and fields out of range are told', () => {
    const [red, ...others] = board.palette;
    const nameless: Board = {
      ...board,
      palette: [{ ...red!, name: '' }, ...others],
      piece: { begin: 'loose' },
    };
    expect(sheet(['mounting'], nameless)).toContain('#cc2222: place 1');
    expect(
      sheet(['mounting'], { ...nameless, piece: { begin: 'loose', headMm: -1 } }, found(nameless)),
    ).toContain('cannot be computed');
  });

  it('pictures have the textures that the maker wants, where colours look alike', () => {
    const alike = { ...board, palette: board.palette.map((colour, i) => ({ ...colour, hex: `#cc222${i}` })) };
    const picture = (): string => markupOf(sheetOf(alike, new Set(['picture']), found(alike)));
    const plain = picture();
    localStorage.setItem('larkboard.textures', 'on');
    expect(picture()).not.toBe(plain);
    localStorage.removeItem('larkboard.textures');
  });

  it('lists what to cut: folds in mounting order, then single strings', () => {
    const five = { ...board, pattern: patternFromText(['r', 'g', 'g', 'r', 'b'], ['f f', 'f f']) };
    const rows = [
      ...markupOf(sheetOf(five, new Set(['cutting']), found(five))).matchAll(/<tr><td>(\d+)<\/td>/g),
    ];
    expect(rows.map(([, turn]) => turn)).toEqual(['1', '2', '3']);
    expect(sheet(['cutting'], five)).toMatch(/red/);
    expect(sheet(['cutting'], { ...five, gauge: { cordMm: -1 } }, found(five))).not.toContain(
      'Thread in all',
    );
    const [red, ...others] = board.palette;
    expect(sheet(['cutting'], { ...five, palette: [{ ...red!, name: '' }, ...others] })).toContain('r ');
  });

  it('says that lengths are estimates until a swatch was measured', () => {
    const hint = 'tie a swatch first';
    expect(sheet(['cutting'], { ...board, gauge: {} })).toContain(hint);
    const gauge = { cordMm: 1.2, rowMm: 1.3, knottingMm: 9, carrierMm: 3 };
    expect(sheet(['cutting'], { ...board, gauge })).not.toContain(hint);
  });

  it('a board and a colour without a name are called something', () => {
    const [red, ...others] = board.palette;
    const nameless = { ...board, title: '', palette: [{ ...red!, name: '' }, ...others] };
    expect(sheet(['picture'], nameless)).toContain('#cc2222 green blue');
    expect(markupOf(sheetOf(nameless, new Set(['picture']), found(nameless)))).toMatch(
      /<img alt=[^>]*6 strings, 4 rows/,
    );
  });

  it('has every step, row by row, in words, and no more than can be read', () => {
    const knots = board.pattern.knots.filter((knot) => knot !== 0).length;
    const items = markupOf(sheetOf(board, new Set(['steps']), found(board))).match(/<li>\d+\. /g);
    expect(items).toHaveLength(knots);
    expect(sheet(['steps'])).toMatch(/1\. .*row 1.*2\. .*row 1/i);
    const wide = sampleBoard(60, 100);
    const shortened = markupOf(sheetOf(wide, new Set(['steps']), LOOKING));
    expect(shortened.match(/<li>/g)).toHaveLength(1200);
  });
});

describe('the card', () => {
  it('says what it is made of and how large it is, as an estimate until a swatch was measured', () => {
    const estimated = wordsOf(cardOf(board));
    expect(estimated).toContain('red green blue');
    const measured = wordsOf(cardOf({ ...board, gauge: { cordMm: 1.2, rowMm: 1.3 } }));
    expect(measured).not.toBe(estimated);
    expect(wordsOf(cardOf({ ...board, title: '' }))).toMatch(/^6 strings, 4 rows/);
  });

  it('[B284] is given with what hangs from a ring, or is worn without one', () => {
    expect(wordsOf(cardOf(board))).toMatch(/For keys and bags.*The ring may contain nickel/);
    const worn = wordsOf(cardOf({ ...board, piece: { begin: 'loop' } }));
    expect(worn).toContain('For the wrist');
    expect(worn).not.toMatch(/keys|\bring\b|nickel/);
  });

  it('says which field keeps it from being drawn', () => {
    expect(wordsOf(cardOf({ ...board, gauge: { cordMm: -1 } }))).toMatch(/width of a string/i);
  });
});
