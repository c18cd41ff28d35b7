/** The finished look: where the piece lies, its ring, heads, knots and ends, from the front and from the back. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import {
  type Board,
  HITCH_STROKES,
  patternFromText,
  planBoard,
  rowStride,
  weave,
} from '../../../engine/index.ts';
import { cordLine, shade } from '../../../web/board/cord.ts';
import { CordSprites } from '../../../web/board/cord-sprites.ts';
import {
  type BandSide,
  drawFinished,
  type FinishedLayout,
  layoutFinished,
  layoutWhole,
  wholeZoom,
} from '../../../web/board/draw-finished.ts';
import { backBars, type FinishedModel, finishedModelOf } from '../../../web/board/finished-model.ts';
import { MOST_SPRITES } from '../../../web/board/knot-sprites.ts';
import type { Textures } from '../../../web/board/textures.ts';
import { type Drawn, drawnBy, drawnOn, stubCanvas, stubNoCanvas } from '../../support/recorded-canvas.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { THEME } from '../../support/scene.ts';

afterEach(() => vi.unstubAllGlobals());

const BOX = { width: 600, height: 900 };
const STEEL = ['#5f5c57', '#8f8b84', '#c3beb5', '#f0ece4'];
const [RED, GREEN, BLUE] = ['#cc2222', '#22aa44', '#2244cc'];

const boardOf = (
  colours: string,
  rows: readonly string[],
  piece: Board['piece'] = { repeats: 1 },
): Board => ({
  ...sampleBoard(),
  pattern: patternFromText([...colours], rows),
  piece,
});
const pieceOf = (board: Board, textures: Textures | null = null): FinishedModel =>
  finishedModelOf(board, planBoard(board), textures);

interface View {
  readonly side?: BandSide;
  readonly layout?: FinishedLayout;
  readonly from?: number;
  readonly to?: number;
}

function drawn(model: FinishedModel, view: View = {}): readonly Drawn[] {
  const layout = view.layout ?? layoutFinished(model, BOX, 1);
  const { side = 'front', from = 0, to = layout.height } = view;
  const sprites = new CordSprites(layout.unit, layout.row, 1);
  return drawnBy((context) => drawFinished(context, model, layout, side, THEME, sprites, from, to));
}

/** Cords and what is filled, without knots and ring. */
const strokes = (all: readonly Drawn[], colour?: string): readonly Drawn[] =>
  all.filter(
    (one) => one.how === 'stroke' && !STEEL.includes(one.colour) && (colour ?? one.colour) === one.colour,
  );
const images = (all: readonly Drawn[]): readonly Drawn[] => all.filter(({ how }) => how === 'image');
const ring = (all: readonly Drawn[]): readonly Drawn[] => all.filter(({ colour }) => STEEL.includes(colour));
const middleOf = ({ box: [left, top, right, bottom] }: Drawn): readonly [number, number] => [
  (left + right) / 2,
  (top + bottom) / 2,
];
/** Strokes of the cord's own colour, of a cord so many units thick: the third of its four tones. */
const cords = (all: readonly Drawn[], model: FinishedModel, thick: number): readonly Drawn[] => {
  const { unit } = layoutFinished(model, BOX, 1);
  return strokes(all).filter(({ width }) => Math.abs(width - unit * thick * 0.6) < 1e-9);
};
const rounded = (values: readonly number[]): readonly number[] =>
  values.map((value) => Math.round(value * 100) / 100);
const isLevel = ({ box }: Drawn): boolean => box[1] === box[3] && box[0] !== box[2];

describe('where the piece lies', () => {
  it('in the middle of its box, as large as fits, not larger than cord can be shown', () => {
    const model = pieceOf({ ...sampleBoard(6, 4), piece: { repeats: 1, tailMm: 10 } });
    const layout = layoutFinished(model, BOX, 1);
    expect(layout.x + (5 * layout.unit) / 2).toBe(300);
    expect([layout.width, layout.unit]).toEqual([600, 15]);
    expect(layout.row / layout.unit).toBeCloseTo(model.proportions.rowPerCord, 9);
    const narrow = layoutFinished(model, { width: 150, height: 900 }, 1);
    expect(narrow.unit).toBeLessThan(15);
    expect([narrow.width, narrow.x > 0]).toEqual([150, true]);
  });

  it('a sheet with more than its box holds scrolls rather than getting too fine', () => {
    const long = layoutFinished(pieceOf({ ...sampleBoard(6, 40), piece: { repeats: 20 } }), BOX, 1);
    expect(long.unit).toBe(10);
    expect(long.height).toBeGreaterThan(BOX.height);
    const wide = layoutFinished(pieceOf(sampleBoard(200, 4)), BOX, 1);
    expect(wide.unit).toBe(3.5);
    expect(wide.width).toBeGreaterThan(200 * 3.5);
    expect(wide.x).toBeGreaterThan(0);
  });

  it('[B83] is as many times as large as it is zoomed', () => {
    const model = pieceOf(sampleBoard(6, 4));
    const [once, twice] = [layoutFinished(model, BOX, 1), layoutFinished(model, BOX, 2)];
    expect([twice.unit, twice.row, twice.ringWidth]).toEqual([
      2 * once.unit,
      2 * once.row,
      2 * once.ringWidth,
    ]);
  });

  it('[B83] fitted whole it has no more height than its box; what fits already is not enlarged', () => {
    const long = pieceOf({ ...sampleBoard(6, 12), piece: { repeats: 20 } });
    const zoom = wholeZoom(long, BOX);
    expect(zoom).toBeLessThan(1);
    expect(layoutFinished(long, BOX, zoom).height).toBeLessThanOrEqual(BOX.height + 1e-6);
    const short = pieceOf(boardOf('rgbrgb', ['f f f'], { repeats: 1, tailMm: 5 }));
    expect(wholeZoom(short, BOX)).toBe(1);
    expect(wholeZoom(long, { width: 600, height: 20 })).toBe(0);
  });

  it('a small picture holds the whole piece, cut off below only where knots would vanish', () => {
    const fits = layoutWhole(pieceOf(sampleBoard(6, 8)), 120, 260);
    expect([fits.width, fits.height <= 260]).toEqual([120, true]);
    const long = layoutWhole(pieceOf({ ...sampleBoard(6, 40), piece: { repeats: 20 } }), 120, 160);
    expect([long.unit, long.height > 160]).toEqual([2.4, true]);
    // Too wide for that even: it stays in its width.
    const wide = layoutWhole(pieceOf(sampleBoard(120, 4)), 120, 160);
    expect(wide.unit * 121.5).toBeLessThan(120);
  });

  it('a round ring is as high as wide, one with a bar is flat; a ring wider than the band counts', () => {
    const ringOf = (piece: Board['piece']) => {
      const { ringWidth, ringHeight, unit } = layoutFinished(
        pieceOf({ ...sampleBoard(6, 4), piece }),
        BOX,
        1,
      );
      return [ringWidth / unit, ringHeight / ringWidth];
    };
    expect(ringOf({ ring: 'round' })).toEqual([8, 1]);
    expect(ringOf({ ring: 'd-ring' })[1]).toBeCloseTo(0.62, 9);
    expect(ringOf({ ring: 'round', ringMm: 24 })[0]).toBeCloseTo(24 / 1.2, 9);
    expect(ringOf({ ring: 'd-ring', barMm: 18 })[0]).toBeCloseTo(18 / 1.2, 9);
  });
});

describe('the ring', () => {
  it.each([6, 7, 40])('stands over the middle of %i strings, its eye above it', (strings) => {
    for (const kind of ['round', 'd-ring'] as const) {
      const model = pieceOf({ ...sampleBoard(strings, 4), piece: { ring: kind } });
      const layout = layoutFinished(model, BOX, 1);
      const parts = ring(drawn(model));
      expect(parts.map(({ colour }) => colour)).toEqual([...STEEL, ...STEEL]);
      for (const part of parts) expect(middleOf(part)[0]).toBeCloseTo(layout.width / 2, 6);
      const [eye, body] = [parts[0]!, parts[4]!];
      expect(middleOf(eye)[1]).toBeLessThan(body.box[1]);
      expect(body.box[2] - body.box[0]).toBeCloseTo(layout.ringWidth, 6);
      expect(body.box[3]).toBeLessThan(layout.y + layout.row);
      expect(eye.box[1]).toBeGreaterThan(0);
      // Metal: each line on the one before is finer and lighter.
      for (let i = 1; i < 4; i++) expect(parts[i]!.width).toBeLessThan(parts[i - 1]!.width);
    }
  });

  it('with a bar is straight below, from one end to the other', () => {
    const { points, box } = ring(drawn(pieceOf({ ...sampleBoard(6, 4), piece: { ring: 'd-ring' } })))[4]!;
    expect(points.slice(0, 2)).toEqual([
      [box[0], box[3]],
      [box[2], box[3]],
    ]);
  });
});

describe('knots', () => {
  /** Middle and colour of each tied knot, by the engine's weave. */
  function tiedOf(model: FinishedModel, layout: FinishedLayout, isBack: boolean) {
    const { strings, rows, start, knots } = model;
    const { shown } = weave({ colours: model.board.pattern.colours, start, rows, knots });
    const tied: (readonly [number, number, string])[] = [];
    for (let row = 0; row < rows; row++)
      for (let place = (start + row) & 1; place + 1 < strings; place += 2) {
        const string = shown[row]![place >> 1]!;
        if (knots[row * rowStride(strings) + (place >> 1)] === 0) continue;
        const x = layout.x + (place + 0.5) * layout.unit;
        tied.push([isBack ? layout.width - x : x, layout.y + (row + 1) * layout.row, model.hexes[string]!]);
      }
    return tied;
  }

  it.each(['front', 'back'] as const)('lie each in its place in the colour that shows, %s', (side) => {
    for (const board of [sampleBoard(6, 5, 1), sampleBoard(7, 4)]) {
      const model = pieceOf(board);
      const layout = layoutFinished(model, BOX, 1);
      const tied = tiedOf(model, layout, side === 'back');
      const found = images(drawn(model, { side }));
      expect(found.map((one) => rounded(middleOf(one)))).toEqual(tied.map(([x, y]) => rounded([x, y])));
      expect(found.map(({ picture }) => picture.some(({ colour }) => colour === shade(RED, -0.5)))).toEqual(
        tied.map(([, , hex]) => hex === RED),
      );
      for (const [i, { picture }] of found.entries())
        expect(picture.filter(({ colour }) => colour === tied[i]![2])).toHaveLength(2);
    }
  });

  it('from behind lean as in front: a hitch is a spring', () => {
    const model = pieceOf(boardOf('rgbr', ['f bf', 'fb']));
    const [front, back] = [images(drawn(model)), images(drawn(model, { side: 'back' }))];
    expect(back.map(({ picture }) => picture)).toEqual(front.map(({ picture }) => picture));
  });

  it('only those in sight are drawn, the ring and ends only where they are', () => {
    const model = pieceOf({ ...sampleBoard(6, 8), piece: { repeats: 10 } });
    const layout = layoutFinished(model, BOX, 1);
    const [first, last] = [layout.y + 20 * layout.row, layout.y + 24 * layout.row];
    const part = drawn(model, { from: first, to: last });
    expect(ring(part)).toEqual([]);
    const rows = new Set(images(part).map((one) => Math.round((middleOf(one)[1] - layout.y) / layout.row)));
    expect(Math.min(...rows)).toBeGreaterThan(16);
    expect(Math.max(...rows)).toBeLessThan(28);
    for (let row = 20; row <= 24; row++) expect(rows.has(row)).toBe(true);
    expect(strokes(drawn(model, { from: 0, to: layout.y - 1 })).length).toBeGreaterThan(0);
    expect(strokes(drawn(model, { from: layout.height + 1, to: layout.height + 50 }))).toEqual([]);
  });
});

describe('strings without knots', () => {
  it('hang above the last knot on each, in their colours, and nowhere else', () => {
    const model = pieceOf(boardOf('rgbr', ['- f', '-', 'f -', '-', 'f -'], { repeats: 1, end: 'straight' }));
    const layout = layoutFinished(model, BOX, 1);
    const hanging = cords(drawn(model), model, 0.92).filter(
      ({ box }) => box[0] === box[2] && Math.abs(box[3] - box[1] - 1.4 * layout.row) < 1e-6,
    );
    const seen = hanging.map(({ colour, box }) => [
      Math.round((box[1] - layout.y) / layout.row - 0.3),
      Math.round((box[0] - layout.x) / layout.unit),
      colour,
    ]);
    // The two on the right are free below the first row; a forward knot in the third makes the two on the left change places.
    expect(seen).toEqual([
      [0, 0, RED],
      [0, 1, GREEN],
      [1, 0, RED],
      [1, 1, GREEN],
      [3, 0, GREEN],
      [3, 1, RED],
    ]);
  });

  it('below the last knot they are ends: a band without knots has nothing but ends', () => {
    const model = pieceOf(boardOf('rgbr', ['- -', '-'], { repeats: 1, endKnot: 'none', end: 'straight' }));
    const ends = strokes(drawn(model)).filter(({ box }) => box[3] > layoutFinished(model, BOX, 1).y + 60);
    expect(new Set(ends.map(({ points }) => points[0]![1])).size).toBe(1);
    expect(ends.filter(({ colour }) => colour === RED)).toHaveLength(2);
    expect(images(drawn(model))).toEqual([]);
  });
});

describe('ends', () => {
  const ended = (endKnot: Board['piece']['endKnot'], more: Board['piece'] = {}): FinishedModel =>
    pieceOf(
      boardOf('rgbrgb', ['f f f', 'f f', 'f f f', 'f f'], {
        repeats: 1,
        end: 'straight',
        ...more,
        ...(endKnot === undefined ? {} : { endKnot }),
      }),
    );
  /** What is drawn from the last row down, by colour as given. */
  const below = (model: FinishedModel, view: View = {}): readonly Drawn[] => {
    const layout = layoutFinished(model, BOX, 1);
    return drawn(model, view).filter(
      (one) => one.how !== 'image' && one.box[3] > layout.y + (model.rows + 1) * layout.row,
    );
  };
  /** The plain middle line of each string’s end, left to right as they begin. */
  const tails = (model: FinishedModel, view: View = {}): readonly Drawn[] => {
    return cords(below(model, view), model, 0.82).toSorted((a, b) => a.points[0]![0] - b.points[0]![0]);
  };
  const order = (model: FinishedModel): readonly string[] =>
    Array.from({ length: 6 }, (_, place) => model.hexes[model.order[model.rows * 6 + place]!]!);

  it.each(['overhand', 'tassel', 'braid', 'none'] as const)(
    'of strings come out in their order and do not cross each other: %s',
    (kind) => {
      const model = ended(kind);
      for (const side of ['front', 'back'] as const) {
        const found = tails(model, { side });
        const expected = side === 'front' ? order(model) : order(model).toReversed();
        expect(found.map(({ colour }) => colour)).toEqual(expected);
        const across = found.map(({ points }) => points.at(-1)![0]);
        expect(across).toEqual(across.toSorted((a, b) => a - b));
      }
    },
  );

  it('are tied in one overhand knot in the middle unless another end is chosen', () => {
    const knot = (model: FinishedModel) => below(model).filter(({ how }) => how === 'fill');
    const [one] = knot(ended(undefined));
    expect(knot(ended('overhand'))).toEqual([one]);
    expect(middleOf(one!)[0]).toBeCloseTo(300, 6);
    expect(one!.colour).toBe(shade(order(ended(undefined))[0]!, -0.5));
    expect([knot(ended('tassel')), knot(ended('braid')), knot(ended('none'))]).toEqual([[], [], []]);
    // Its turns have the colours of the strings that it holds.
    const colours = [...new Set(order(ended('overhand')))];
    const turns = cords(below(ended('overhand')), ended('overhand'), 0.95);
    expect(turns.map(({ colour }) => colour)).toEqual([...colours, colours[0]]);
  });

  it('spread below a knot, fan out of a tassel less, are bound in a braid, and hang where they are without', () => {
    const spread = (kind: Board['piece']['endKnot']): number => {
      const xs = tails(ended(kind)).map(({ points }) => points.at(-1)![0]);
      return (Math.max(...xs) - Math.min(...xs)) / layoutFinished(ended(kind), BOX, 1).unit;
    };
    expect(spread('none')).toBeGreaterThan(4);
    expect(spread('overhand')).toBeGreaterThan(spread('tassel'));
    expect(spread('tassel')).toBeGreaterThan(spread('braid'));
    expect(spread('braid')).toBeLessThan(2.4);
  });

  it('a tassel has a collar of the first string’s colour', () => {
    const model = ended('tassel');
    const collar = strokes(below(model), order(model)[0]!).filter(isLevel);
    expect(collar).toHaveLength(5);
    for (const turn of collar) expect(middleOf(turn)[0]).toBeCloseTo(300, 6);
    expect(strokes(below(ended('overhand'))).filter(isLevel)).toEqual([]);
  });

  it('a braid is of three strands in turn and bound below; of one colour it is that one', () => {
    const turnsOf = (model: FinishedModel): readonly string[] =>
      cords(below(model), model, 1.8).map(({ colour }) => colour);
    const model = ended('braid');
    const colours = [...new Set(order(model))];
    const turns = turnsOf(model);
    expect(turns.length).toBeGreaterThan(6);
    expect(turns).toEqual(turns.map((_, i) => colours[i % 3]));
    const [binding] = strokes(below(model)).filter(isLevel);
    expect(binding!.box[1]).toBeGreaterThan(
      layoutFinished(model, BOX, 1).height - 28 - 2 * layoutFinished(model, BOX, 1).unit,
    );
    const plain = pieceOf(boardOf('rrrr', ['f f', 'f'], { repeats: 1, endKnot: 'braid' }));
    expect(new Set(turnsOf(plain))).toEqual(new Set([RED]));
  });

  it('of a double triangle are two, each below its half', () => {
    const model = ended('overhand', { end: 'double triangle' });
    const layout = layoutFinished(model, BOX, 1);
    const knots = below(model).filter(({ how }) => how === 'fill');
    expect(knots.map((one) => Math.round(middleOf(one)[0]))).toEqual(
      [1, 4].map((place) => Math.round(layout.x + place * layout.unit)),
    );
  });

  it('bear the texture of their colour', () => {
    const dashed = (textures: Textures | null): readonly Drawn[] => {
      const board = boardOf('rgbrgb', ['f f f', 'f f'], { repeats: 1, endKnot: 'none' });
      return below(pieceOf(board, textures)).filter(({ dash }) => dash.length > 0);
    };
    expect(dashed(null)).toEqual([]);
    expect(dashed(new Map([['g', 1]]))).toHaveLength(2);
  });
});

describe('heads', () => {
  const headed = (colours: string): FinishedModel => pieceOf(boardOf(colours, ['f f', 'f']));

  it('go round the bar at each place in the colour of the string, seen from behind the other way round', () => {
    const heads = (side: BandSide): readonly string[] => {
      const model = headed('rgbb');
      return cords(drawn(model, { side }), model, 0.95)
        .filter(({ box }) => box[0] === box[2] && box[1] < layoutFinished(model, BOX, 1).y)
        .toSorted((a, b) => a.box[0] - b.box[0])
        .map(({ colour }) => colour);
    };
    expect(heads('front')).toEqual([RED, GREEN, BLUE, BLUE]);
    expect(heads('back')).toEqual([BLUE, BLUE, GREEN, RED]);
  });

  it('of a string whose ends hang side by side are joined in front; nothing is known to join without a plan', () => {
    const joined = (model: FinishedModel, side: BandSide): readonly string[] =>
      cords(drawn(model, { side }), model, 0.8)
        .filter(isLevel)
        .map(({ colour }) => colour);
    expect(joined(headed('rggr'), 'front')).toEqual([GREEN]);
    expect(joined(headed('rggr'), 'back')).toEqual([]);
    expect(joined({ ...headed('rggr'), plan: null }, 'front')).toEqual([]);
  });

  it('[B84] the bar of a fold that crosses lies over the back with a shadow, the later one lower, and not in front', () => {
    const model = pieceOf(boardOf('rgbrgb', ['- - -', '- -']));
    const layout = layoutFinished(model, BOX, 1);
    const shadows = (side: BandSide) =>
      drawn(model, { side }).filter(({ colour, how }) => how === 'stroke' && colour === '#000000');
    expect(shadows('front')).toEqual([]);
    const bars = backBars(model.plan);
    expect(bars.length).toBeGreaterThan(1);
    const found = shadows('back');
    expect(found).toHaveLength(bars.length);
    for (const [i, { left, right, level }] of bars.entries()) {
      const { box, alpha } = found[i]!;
      expect(rounded([box[0], box[2]])).toEqual(
        rounded([right, left].map((place) => layout.x + (5 - place) * layout.unit)),
      );
      expect(alpha).toBeLessThan(0.5);
      for (const [j, other] of bars.entries())
        if (other.level > level) expect(found[j]!.box[3]).toBeGreaterThan(box[3]);
    }
    // The bar itself is not thinned as its shadow is.
    const all = drawn(model, { side: 'back' });
    const bar = all[all.findIndex(({ colour }) => colour === '#000000') + 1]!;
    expect([bar.alpha, bar.colour]).toEqual([1, shade(model.hexes[bars[0]!.left]!, -0.45)]);
  });
});

describe('cord', () => {
  it('is darker at its edges and lighter along its back, a fine one has two tones only', () => {
    const tones = (width: number) =>
      drawnBy((context) => cordLine(context, [0, 0], [40, 0], '#808080', width)).map((one) => [
        one.colour,
        one.width,
        one.cap,
      ]);
    const thick = tones(10);
    expect(thick.map(([colour]) => colour)).toEqual(['#464646', '#6c6c6c', '#808080', '#969696']);
    expect(thick.map(([, width]) => width)).toEqual([10, 8.4, 6, 3]);
    expect(tones(2.9).map(([colour]) => colour)).toEqual(['#6c6c6c', '#808080']);
    expect(thick.every(([, , cap]) => cap === 'round')).toBe(true);
  });

  it('a colour is mixed with white or with black; what is none is our own fault', () => {
    expect([shade('#336699', 0), shade('#336699', 1), shade('#336699', -1)]).toEqual([
      '#336699',
      '#ffffff',
      '#000000',
    ]);
    expect([shade('#808080', 0.5), shade('#808080', -0.5)]).toEqual(['#c0c0c0', '#404040']);
    expect(() => shade('teal', 0.5)).toThrow(RangeError);
  });
});

describe('knots of cord', () => {
  const picture = (knot: number, texture = 0, unit = 12): readonly Drawn[] => {
    stubCanvas();
    return drawnOn(new CordSprites(unit, unit * 1.7, 1).of(RED, knot, texture));
  };

  it('lean as the half hitches of the notation do, over a ground that is darker than they', () => {
    const lean = (x0: number, y0: number, x1: number, y1: number) => ((x1 - x0) * (y1 - y0) > 0 ? '\\' : '/');
    for (const knot of [1, 2, 3, 4]) {
      const [ground, ...turns] = picture(knot);
      expect([ground!.how, ground!.colour]).toEqual(['fill', shade(RED, -0.5)]);
      const leans = turns
        .filter(({ colour }) => colour === RED)
        .map(({ points: [from, to] }) => lean(...from!, ...to!));
      expect([knot, leans]).toEqual([knot, HITCH_STROKES[knot]!.map((ends) => lean(...ends))]);
    }
  });

  it('near enough the twist of the cord is seen; a texture takes its place', () => {
    const twist = (all: readonly Drawn[]) => all.filter(({ alpha }) => alpha < 1);
    expect(twist(picture(1)).map(({ colour }) => colour)).toEqual([shade(RED, -0.3), shade(RED, -0.3)]);
    expect(twist(picture(1, 0, 8))).toEqual([]);
    expect(twist(picture(1, 1)).map(({ dash }) => dash.length)).toEqual([2, 2]);
    // What is no knot has no turns.
    expect(picture(9)).toHaveLength(1);
  });

  it('are drawn once for each colour, kind and texture, and are whole device pixels', () => {
    stubCanvas();
    const sprites = new CordSprites(12.3, 20.1, 1.5);
    const one = sprites.of(RED, 1);
    expect(sprites.of(RED, 1)).toBe(one);
    for (const other of [sprites.of(RED, 2), sprites.of(BLUE, 1), sprites.of(RED, 1, 2)])
      expect(other).not.toBe(one);
    expect(sprites.isFor(12.3, 20.1, 1.5)).toBe(true);
    for (const scale of [
      [12.4, 20.1, 1.5],
      [12.3, 20.2, 1.5],
      [12.3, 20.1, 2],
    ] as const)
      expect(sprites.isFor(scale[0], scale[1], scale[2])).toBe(false);
    expect([sprites.width * 1.5, sprites.height * 1.5]).toEqual([one.width, one.height]);
  });

  it('too many colours at once are forgotten, so that sliding through colours does not fill the memory', () => {
    stubCanvas();
    const sprites = new CordSprites(12, 20, 1);
    const first = sprites.of('#000000', 1);
    for (let i = 1; i < MOST_SPRITES; i++) sprites.of(`#${i.toString(16).padStart(6, '0')}`, 1);
    expect(sprites.of('#000000', 1)).toBe(first);
    sprites.of('#ffffff', 1);
    expect(sprites.of('#000000', 1)).not.toBe(first);
  });

  it('where the browser gives no canvas it is said, not drawn blank', () => {
    stubNoCanvas();
    expect(() => new CordSprites(12, 20, 1).of(RED, 1)).toThrow('no canvas');
  });
});
