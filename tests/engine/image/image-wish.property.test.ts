import { describe, expect, it } from 'vitest';
import { hangWish, imageWish, layLettering, rowParity, type Wish } from '../../../engine/index.ts';

import { chooseThreads } from '../../../engine/image/choose-threads.ts';
import { knotColours } from '../../../engine/image/knot-colours.ts';
import { type Frame, frameFor, mapOf } from '../../../engine/image/pixels.ts';
import { seededRandom } from '../../support/seeded-random.ts';
import { bytesOf, type Colour, knotUnder, paintedImage } from '../../support/painted-image.ts';

const HEXES = ['#f2e8d5', '#8c2f39', '#1d4e89', '#2f6b3c', '#d99a2b', '#4a3b57'];
const PALETTE = HEXES.map((hex, i) => ({ id: `t${i}`, name: `thread ${i}`, hex }));
const CLEAR: Colour = [0, 0, 0, 0];

const sizeOf = (frame: Frame): Wish => ({
  strings: frame.strings,
  start: frame.start,
  palette: PALETTE,
  rows: Array.from({ length: frame.rows }, (_, row) =>
    Array.from({ length: (frame.strings - rowParity(frame.start, row)) >> 1 }, () => 0),
  ),
});

/** A wish with a random colour in each knot. */
function randomWish(frame: Frame, seed: number, colours = PALETTE.length): Wish {
  const random = seededRandom(seed);
  const blank = sizeOf(frame);
  return { ...blank, rows: blank.rows.map((row) => row.map(() => random.below(colours))) };
}

/** The image that shows a wish under a frame, clear beside the band. */
function imageOf(wish: Wish, frame: Frame, width: number, height: number) {
  return paintedImage(width, height, (x, y) => {
    const { row, place } = knotUnder(frame, x, y);
    const index = wish.rows[row]?.[place >> 1];
    return index === undefined || place < 0 ? CLEAR : bytesOf(HEXES[index]!);
  });
}

const FRAME: Frame = {
  strings: 10,
  start: 0,
  rows: 12,
  rowPerCord: 1.15,
  middleX: 90,
  middleY: 80,
  pxPerPlace: 9,
  turnDegrees: 0,
};

describe('images brought to knots', () => {
  it('[J80] what a band shows is read back knot by knot, wherever, however large and however turned it lies', () => {
    for (let seed = 1; seed <= 25; seed++) {
      const random = seededRandom(seed);
      const frame: Frame = {
        strings: 4 + random.below(12),
        start: random.chance(0.5) ? 1 : 0,
        rows: 3 + random.below(14),
        rowPerCord: 0.9 + 0.4 * random.next(),
        middleX: 100 + 20 * random.next(),
        middleY: 110 + 20 * random.next(),
        pxPerPlace: 5 + 4 * random.next(),
        turnDegrees: 360 * random.next(),
      };
      const wish = randomWish(frame, seed);
      const found = imageWish(imageOf(wish, frame, 230, 240), frame, PALETTE, { colours: 6, flat: 0 });
      expect({ seed, ...found }).toEqual({ seed, ...wish });
    }
  });

  it('[J80] the frame has the real proportions of knots: the whole image, or the band filled by it', () => {
    const image = { width: 600, height: 900 };
    const whole = frameFor(image, { strings: 12, rowPerCord: 1.2 });
    // 12 places on 600 px; rows of 60 px, one more than knots.
    expect(whole).toMatchObject({ pxPerPlace: 50, rows: 14, middleX: 300, middleY: 450, turnDegrees: 0 });
    const corner = (frame: Frame, place: number, row: number): [number, number] => {
      const { ax, bx, cx, ay, by, cy } = mapOf(frame);
      return [ax * place + bx * row + cx, ay * place + by * row + cy];
    };
    for (const [fit, isInside] of [
      ['whole', false],
      ['fill', true],
    ] as const) {
      const frame = frameFor(image, { strings: 12, rowPerCord: 1.2, rows: 40 }, fit);
      const [left, top] = corner(frame, -0.5, 0);
      const [right, bottom] = corner(frame, 11.5, 41);
      const within = left >= -1e-9 && top >= -1e-9 && right <= 600 + 1e-9 && bottom <= 900 + 1e-9;
      const around = left <= 1e-9 && top <= 1e-9 && right >= 600 - 1e-9 && bottom >= 900 - 1e-9;
      expect({ fit, within, around }).toEqual({ fit, within: isInside, around: !isInside });
      expect((bottom - top) / 41 / ((right - left) / 12)).toBeCloseTo(1.2, 9);
    }
    expect(frameFor({ width: 10, height: 100_000 }, { strings: 12, rowPerCord: 1 }).rows).toBe(400);
    expect(frameFor({ width: 1000, height: 1 }, { strings: 12, rowPerCord: 1 }).rows).toBe(4);
  });

  it('[J81] a knot has the median of its points in linear light, and none where most of it is beside the image or clear', () => {
    const half = (left: Colour, right: Colour) =>
      knotColours(
        paintedImage(180, 160, (x) => (x < 90 ? left : right)),
        { ...FRAME, strings: 3, rows: 1, middleX: 99 },
      )[0]![0];
    // The knot of the first two strings lies around x = 94.5: less than half of it left of 90.
    expect(half([0, 0, 0], [255, 255, 255])).toEqual([1, 1, 1]);
    expect(half([0, 0, 0], CLEAR)).toBeNull();
    expect(half(CLEAR, [255, 0, 188])![0]).toBe(1);
    const even = knotColours(
      paintedImage(180, 160, (x) => (x < 90 ? [0, 0, 0] : x < 91 ? CLEAR : [255, 255, 255])),
      { ...FRAME, strings: 2, rows: 1, middleX: 90.5 },
    )[0]![0]!;
    // Half of its points black, half white: the middle in light, not of the bytes.
    expect(even).toEqual([0.5, 0.5, 0.5]);
    const off = knotColours(
      paintedImage(180, 160, () => [9, 9, 9]),
      { ...FRAME, middleX: 180 },
    )[0]!;
    expect(off.map((light) => light === null)).toEqual([false, false, true, true, true]);
  });

  it('[J82] never more colours than are asked for, and no others come nearer', () => {
    const sumOf = (apart: readonly Float64Array[], set: readonly number[]): number =>
      apart.reduce((sum, row) => sum + Math.min(...set.map((index) => row[index]!)), 0);
    const differences = (seed: number, palette: number): Float64Array[] => {
      const random = seededRandom(seed);
      return Array.from({ length: 40 }, () =>
        Float64Array.from({ length: palette }, () => 100 * random.next()),
      );
    };
    const sets = Array.from({ length: 256 }, (_, bits) =>
      [...Array(8).keys()].filter((i) => (bits >> i) & 1),
    );
    for (let seed = 1; seed <= 10; seed++) {
      const apart = differences(seed, 8);
      for (const most of [1, 2, 3, 5]) {
        const least = Math.min(...sets.filter((set) => set.length === most).map((set) => sumOf(apart, set)));
        expect(sumOf(apart, chooseThreads(apart, 8, most))).toBeCloseTo(least, 9);
      }
    }
    // Of so many sets not all are tried: none that has one other thread comes nearer.
    const many = differences(11, 30);
    const chosen = chooseThreads(many, 30, 5);
    expect(chosen).toHaveLength(5);
    for (let other = 0; other < 30; other++)
      for (let at = 0; at < 5; at++) {
        const exchanged = chosen.map((one, i) => (i === at ? other : one));
        expect(sumOf(many, exchanged)).toBeGreaterThanOrEqual(sumOf(many, chosen));
      }
    expect(chooseThreads([], 3, 2)).toHaveLength(1);
    const wish = randomWish(FRAME, 7);
    for (const colours of [1, 2, 4, 9]) {
      const found = imageWish(imageOf(wish, FRAME, 180, 160), FRAME, PALETTE, { colours });
      expect(new Set(found.rows.flat()).size).toBe(Math.min(6, colours));
    }
  });

  it('[J83] specks are flattened and lines that are clear stay', () => {
    const blank = sizeOf(FRAME);
    const line: Wish = { ...blank, rows: blank.rows.map((row) => row.map((_, k) => (k === 2 ? 2 : 0))) };
    const clean = imageOf(line, FRAME, 180, 160);
    expect(imageWish(clean, FRAME, PALETTE, { colours: 6 }).rows).toEqual(line.rows);
    // Light that falls unevenly: in some knots another thread is a little nearer.
    const pale = [...PALETTE, { id: 'pale', name: 'pale', hex: '#e9dfc9' }];
    const random = seededRandom(3);
    const uneven = paintedImage(180, 160, (x, y) => {
      const { row, place } = knotUnder(FRAME, x, y);
      const shade = (row * 31 + place * 17) % 5 === 0 ? 11 : 0;
      return bytesOf(HEXES[line.rows[row]?.[place >> 1] ?? 0]!).map((byte) =>
        Math.max(0, byte - shade - 2 * random.next()),
      ) as unknown as Colour;
    });
    const specked = imageWish(uneven, FRAME, pale, { colours: 7, flat: 0 });
    expect(specked.rows.flat().filter((index) => index === 6).length).toBeGreaterThan(4);
    expect(imageWish(uneven, FRAME, pale, { colours: 7 }).rows).toEqual(line.rows);
  });

  it('[J84] the same image gives the same wish, its pixels as they were; what makes no sense is refused', () => {
    const image = imageOf(randomWish(FRAME, 4), FRAME, 180, 160);
    const before = image.rgba.slice();
    const first = imageWish(image, FRAME, PALETTE, { colours: 3 });
    expect(imageWish(image, FRAME, PALETTE, { colours: 3 })).toEqual(first);
    expect(image.rgba).toEqual(before);
    const wrong: readonly [Partial<Frame>, RegExp][] = [
      [{ pxPerPlace: 0 }, /pxPerPlace 0/],
      [{ rowPerCord: Number.NaN }, /rowPerCord NaN/],
      [{ turnDegrees: Infinity }, /turnDegrees Infinity/],
      [{ strings: 1 }, /strings/],
    ];
    for (const [part, message] of wrong)
      expect(() => imageWish(image, { ...FRAME, ...part }, PALETTE, { colours: 3 })).toThrow(message);
    expect(() => imageWish({ ...image, width: 7 }, FRAME, PALETTE, { colours: 3 })).toThrow(/7 by 160/);
    expect(() => imageWish(image, FRAME, [], { colours: 3 })).toThrow(/one colour/);
    expect(() => imageWish(image, FRAME, PALETTE, { colours: 0 })).toThrow(/0 colours/);
    expect(() => imageWish(image, FRAME, PALETTE, { colours: 2, flat: 21 })).toThrow(/flat 21/);
  });

  it('[J85] a drawn icon photographed askew comes back as the board that shows it', () => {
    const laid = layLettering({ text: '♥', run: 'upright', strings: 12 }, PALETTE);
    if (!laid.ok) throw new Error(laid.error.kind);
    const { wish } = laid;
    const frame: Frame = {
      ...FRAME,
      strings: 12,
      rows: wish.rows.length,
      middleX: 120,
      middleY: 120,
      turnDegrees: 17,
    };
    const found = imageWish(imageOf(wish, frame, 240, 240), frame, PALETTE, { colours: 2 });
    expect(found.rows).toEqual(wish.rows);
    const board = hangWish(found);
    if (!board.ok) throw new Error(board.error.message);
    expect(board.wrong).toBe(0);
  });
});
