import { describe, expect, it } from 'vitest';
import { type Board, hangWish, layLettering, rowParity, tallyOf, weave } from '../../../engine/index.ts';
import { isDrawn, placeSign, type Run, signsOf } from '../../../engine/motif/signs.ts';
import { keysOf, lozengesApart, templatesOf } from '../../support/sign-templates.ts';

const PALETTE = [
  { id: 'sand', name: 'sand', hex: '#e8dcc0' },
  { id: 'pine', name: 'pine', hex: '#1f5a44' },
];
type Lettering = Parameters<typeof layLettering>[0];

const RUNS: readonly Run[] = ['upright', 'along'];
const FEWEST: Readonly<Record<Run, number>> = { upright: 12, along: 10 };
/** Lozenges in which any two signs differ, wherever one is laid on the other. */
const MARGIN = 4;
const MOTIF_MARGIN = 8;
const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÜß0123456789'];
/** Heart, star, moon, leaf, wave, paw. */
const MOTIFS = [...'♥★☾🍃≈🐾'];

function laid(lettering: Lettering) {
  const found = layLettering(lettering, PALETTE);
  if (!found.ok) throw new Error(JSON.stringify(found.error));
  return found;
}

function errorOf(lettering: Lettering) {
  const found = layLettering(lettering, PALETTE);
  return found.ok ? null : found.error;
}

function hung(lettering: Lettering) {
  const { wish } = laid(lettering);
  const found = hangWish(wish);
  if (!found.ok) throw new Error(JSON.stringify(found.error));
  return found;
}

/** Lozenges in which the second colour shows, below the lead-in, as place and row. */
function shownIn({ pattern, palette, piece }: Board): { x: number; y: number }[] {
  const lead = piece.leadInRows ?? 0;
  return weave(pattern).shown.flatMap((row, r) =>
    Array.from(row).flatMap((string, k) =>
      r >= lead && string >= 0 && pattern.colours[string] === palette[1]!.id
        ? [{ x: 2 * k + rowParity(pattern.start, r), y: r - lead }]
        : [],
    ),
  );
}

/** A wish as lines of text, `o` for the second colour. */
function asText({ wish }: ReturnType<typeof laid>): string[] {
  return wish.rows.map((row, r) => {
    const line = Array.from({ length: wish.strings - 1 }, () => ' ');
    row.forEach((cell, k) => {
      line[2 * k + rowParity(wish.start, r)] = cell === 1 ? 'o' : '.';
    });
    return line.join('');
  });
}

describe('letters on staggered rows', () => {
  it('[J71] A to Z, the digits, Ä Ö Ü and ß are drawn, and what is typed small stands for the large letter', () => {
    expect([...LETTERS, ...MOTIFS].filter((sign) => !isDrawn(sign))).toEqual([]);
    expect(signsOf(' äß\u0061\u0308 b♥')).toEqual(['Ä', 'ß', 'Ä', ' ', 'B', '♥']);
    expect(['A', 'ß', '♥', ' ', '?', 'constructor'].map(isDrawn)).toEqual([
      true,
      true,
      true,
      false,
      false,
      false,
    ]);
    expect(() => placeSign('?', 'along', 1)).toThrow(/"\?" is not drawn/);
  });

  it.each(RUNS)(
    `[J72] %s: each letter is nearer to itself than to any other by ${MARGIN} lozenges`,
    (run) => {
      const templates = templatesOf(LETTERS, run);
      const near = templates.flatMap((one, i) => {
        const figure = keysOf(one.drawing.lozenges);
        expect(lozengesApart(figure, one.drawing)).toBe(0);
        return templates.slice(i + 1).map((other) => ({
          pair: one.sign + other.sign,
          apart: lozengesApart(figure, other.drawing),
        }));
      });
      expect(near).toHaveLength((40 * 39) / 2);
      expect(near.filter(({ apart }) => apart < MARGIN)).toEqual([]);
      // No pair is nearer than the margin, and some are as near as it: the figure is the true one.
      expect(Math.min(...near.map(({ apart }) => apart))).toBe(MARGIN);
    },
  );

  it(`[J76] each motif differs from all others and from every letter in ${MOTIF_MARGIN} lozenges at least`, () => {
    for (const run of RUNS) {
      const all = templatesOf([...MOTIFS, ...LETTERS], run);
      for (const motif of all.slice(0, MOTIFS.length)) {
        const figure = keysOf(motif.drawing.lozenges);
        const near = all
          .filter(({ sign }) => sign !== motif.sign)
          .map(({ sign, drawing }) => ({ sign, apart: lozengesApart(figure, drawing, 14) }));
        expect(near).toHaveLength(MOTIFS.length + LETTERS.length - 1);
        expect(near.filter(({ apart }) => apart < MOTIF_MARGIN)).toEqual([]);
      }
    }
  });

  it.each(RUNS)('[J73] %s: every letter fits the fewest strings, and each sign says what it needs', (run) => {
    const strings = FEWEST[run];
    for (const sign of LETTERS) expect(laid({ text: sign, run, strings }).size).toBe(1);
    for (const sign of [...LETTERS, ...MOTIFS]) {
      const error = errorOf({ text: sign, run, strings: 4 });
      if (error?.kind !== 'too-narrow') throw new Error(`${sign} fits four strings`);
      expect(error).toMatchObject({ sign, strings: 4 });
      expect(errorOf({ text: sign, run, strings: error.needs })).toBeNull();
      expect(errorOf({ text: sign, run, strings: error.needs - 1 })).toMatchObject({ needs: error.needs });
    }
    expect(errorOf({ text: 'A🐾♥', run, strings: 10 })).toMatchObject({ kind: 'too-narrow', sign: '🐾' });
    expect(errorOf({ text: 'A', run, strings: strings - 1 })).toMatchObject({ needs: strings });
    expect(errorOf({ text: 'A', run, strings: 2 * strings, size: 3 })).toMatchObject({ kind: 'too-narrow' });
  });

  it('[J73] what is not drawn, nothing at all and what is too long are errors that say so', () => {
    expect(errorOf({ text: 'A?é?', run: 'along', strings: 12 })).toEqual({
      kind: 'not-drawn',
      signs: ['?', 'É'],
    });
    expect(errorOf({ text: '   ', run: 'along', strings: 12 })).toEqual({ kind: 'empty' });
    expect(errorOf({ text: 'M'.repeat(3000), run: 'along', strings: 12 })).toMatchObject({
      kind: 'too-long',
    });
    expect(() => layLettering({ text: 'A', run: 'along', strings: 12 }, PALETTE.slice(1))).toThrow(
      /two colours/,
    );
    expect(() => layLettering({ text: 'A', run: 'along', strings: 12, size: 0 }, PALETTE)).toThrow(/size 0/);
  });

  it('[J74] letters stand one below the other, in the middle, with ground around each', () => {
    expect(asText(laid({ text: 'Lß', run: 'upright', strings: 12 }))).toEqual([
      '. . . . . .',
      ' . . . . . ',
      '. . . . . .',
      ' o . . . . ',
      '. . . . . .',
      ' o . . . . ',
      '. . . . . .',
      ' o . . . . ',
      '. . . . . .',
      ' o . . . . ',
      '. . . . . .',
      ' o . . . . ',
      '. . . . . .',
      ' o . . . . ',
      '. . . . . .',
      ' o o o o o ',
      '. . . . . .',
      ' . . . . . ',
      '. . . . . .',
      ' . o o . . ',
      '. o . o . .',
      ' o . . o . ',
      '. . . . . .',
      ' o . . o . ',
      '. . . o . .',
      ' o . o o . ',
      '. . . . o .',
      ' o . . . o ',
      '. . . . . .',
      ' o . . . o ',
      '. . . . o .',
      ' o . o o . ',
      '. . . . . .',
      ' . . . . . ',
      '. . . . . .',
      ' . . . . . ',
    ]);
  });

  it('[J74] letters along the band read downwards, their heads at the right', () => {
    expect(asText(laid({ text: 'L', run: 'along', strings: 10 }))).toEqual([
      '. . . . .',
      ' . . . . ',
      '. . . . .',
      ' . . . . ',
      'o o o o o',
      ' . . . . ',
      'o . . . .',
      ' . . . . ',
      'o . . . .',
      ' . . . . ',
      'o . . . .',
      ' . . . . ',
      '. . . . .',
      ' . . . . ',
    ]);
  });

  it('[J74] the largest size that fits is taken unless one is asked for; a space is ground', () => {
    expect(laid({ text: 'A', run: 'upright', strings: 21 }).size).toBe(1);
    expect(laid({ text: 'A', run: 'upright', strings: 22 }).size).toBe(2);
    expect(laid({ text: 'A', run: 'upright', strings: 22, size: 1 }).size).toBe(1);
    expect(laid({ text: 'A', run: 'along', strings: 30 }).size).toBe(3);
    const [joined, parted] = ['AB', 'A B'].map((text) => laid({ text, run: 'along', strings: 10 }));
    expect(parted!.wish.rows.length).toBeGreaterThan(joined!.wish.rows.length);
    expect(parted!.signs.map(({ sign }) => sign)).toEqual(['A', 'B']);
  });

  it.each(RUNS)(
    '[J77] %s: every letter comes out whole on the fewest strings, and hangs without a crossing',
    (run) => {
      const singles = LETTERS.map((sign) => {
        const strings = FEWEST[run];
        const { board, wrong } = hung({ text: sign, run, strings });
        const tally = tallyOf(board);
        expect({ sign, wrong, neat: tally.isNeat, crossings: tally.crossings }).toEqual({
          sign,
          wrong: 0,
          neat: true,
          crossings: 0,
        });
        expect(keysOf(shownIn(board)).size).toBe(placeSign(sign, run, 1).drawing.lozenges.length);
        expect(board.piece.repeats).toBe(1);
        return tally.singles;
      });
      // Where letters take the band from edge to edge, so many strings of either colour are odd: two singles.
      expect([...new Set(singles)].filter((count) => count !== 0 && count !== 2)).toEqual([]);
      expect(singles.filter((count) => count === 0).length).toBeGreaterThanOrEqual(
        run === 'upright' ? 36 : 20,
      );
    },
  );

  it('[J77] read back from the knots of two monograms, each sign is its own template and no other', () => {
    const monograms: readonly Lettering[] = [
      { text: 'M♥K', run: 'upright', strings: 14 },
      { text: 'JÖ7', run: 'along', strings: 12 },
    ];
    for (const lettering of monograms) {
      const { signs } = laid(lettering);
      const { board, wrong } = hung(lettering);
      expect(wrong).toBe(0);
      const shown = shownIn(board);
      const templates = templatesOf([...LETTERS, ...MOTIFS], lettering.run);
      let read = 0;
      for (const { sign, row, place } of signs) {
        const { top, bottom } = placeSign(sign, lettering.run, 1).drawing;
        const figure = keysOf(
          shown
            .filter(({ y }) => y >= row + top && y <= row + bottom)
            .map(({ x, y }) => ({ x: x - place, y: y - row })),
        );
        read += figure.size;
        const apart = templates.map((one) => ({ sign: one.sign, by: lozengesApart(figure, one.drawing) }));
        expect(apart.filter(({ by }) => by < MARGIN)).toEqual([{ sign, by: 0 }]);
      }
      // Nothing shows beside the signs.
      expect(shown).toHaveLength(read);
    }
  });

  it('[J77] each motif comes out whole, on 14 strings and on 16', () => {
    for (const text of MOTIFS)
      for (const strings of [14, 16]) {
        const { board, wrong } = hung({ text, run: 'upright', strings });
        expect({ text, wrong, neat: tallyOf(board).isNeat }).toEqual({ text, wrong: 0, neat: true });
      }
  });

  it('[J78] a wish whose colours cannot be even gets singles, the fewest of both ways, and the same every time', () => {
    const wish = laid({ text: 'JT', run: 'along', strings: 10 }).wish;
    const shares: number[] = [];
    const found = hangWish(wish, { onProgress: (share) => shares.push(share) });
    if (!found.ok) throw new Error(JSON.stringify(found.error));
    expect({ wrong: found.wrong, singles: tallyOf(found.board).singles }).toEqual({ wrong: 0, singles: 2 });
    expect(hangWish(wish)).toEqual(found);
    expect(shares.length).toBeGreaterThan(1);
    expect([...shares].sort((a, b) => a - b)).toEqual(shares);
    expect(hangWish({ ...wish, strings: 0 })).toMatchObject({ ok: false, error: { path: 'strings' } });
  });
});
