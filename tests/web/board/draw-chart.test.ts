/** The chart and the paths: which strings and knots are drawn, in which colours, and only where something can be seen. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type Board, inkOn, patternFromText, weave } from '../../../engine/index.ts';
import { ChartPainter, rangeIn } from '../../../web/board/draw-chart.ts';
import { drawKnots, wholeBand } from '../../../web/board/draw-knots.ts';
import { PathsPainter } from '../../../web/board/draw-paths.ts';
import { KnotSprites } from '../../../web/board/knot-sprites.ts';
import type { Painter, Scene } from '../../../web/board/painter.ts';
import { type Drawn, drawnBy } from '../../support/recorded-canvas.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { sceneOf } from '../../support/scene.ts';

afterEach(() => vi.unstubAllGlobals());

const boardOf = (rows: readonly string[], colours = ['r', 'g', 'b', 'r']): Board => ({
  ...sampleBoard(),
  pattern: patternFromText(colours, rows),
});
const ALL = { left: 0, top: 0, width: 600, height: 600 };
const BELOW = { ...ALL, top: 90 };
const painted = (painter: Painter, board: Board, strip = ALL, more: Partial<Scene> = {}): readonly Drawn[] =>
  drawnBy((context) => painter.paint(context, sceneOf(board, more), strip));
const count = (drawn: readonly Drawn[], how: Drawn['how'], colour?: string): number =>
  drawn.filter((one) => one.how === how && (colour === undefined || one.colour === colour)).length;

describe('the chart', () => {
  it('copies a picture for each knot and hangs both strings of an untied pair', () => {
    const drawn = painted(new ChartPainter(), boardOf(['f -', '-']), BELOW);
    expect(count(drawn, 'image')).toBe(1);
    const hanging = drawn.filter(({ how, colour }) => how === 'rect' && colour.startsWith('#'));
    // Two in the first row; in the second both edges and the untied pair.
    expect(hanging).toHaveLength(6);
    expect(hanging.map(({ colour }) => colour).sort()).toEqual(
      ['#2244cc', '#cc2222', '#22aa44', '#cc2222', '#cc2222', '#2244cc'].sort(),
    );
  });

  it('draws a tail for each string in the order in which they come out', () => {
    const tails = painted(new ChartPainter(), boardOf(['f b']), BELOW).filter(
      ({ how, colour }) => how === 'fill' && colour.startsWith('#'),
    );
    expect(tails.map(({ colour }) => colour)).toEqual(['#22aa44', '#cc2222', '#cc2222', '#2244cc']);
  });

  it('draws nothing that lies outside the strip', () => {
    const board = sampleBoard(60, 200);
    const part = painted(new ChartPainter(), board, { left: 300, top: 500, width: 40, height: 40 });
    expect(part.length).toBeLessThan(200);
    expect(count(part, 'text')).toBe(0);
    expect(rangeIn(sceneOf(board), { left: 300, top: 500, width: 40, height: 40 })).toMatchObject({
      fromPlace: 8,
      toPlace: 14,
    });
  });

  it('from far away leaves out edges and outlines', () => {
    const near = painted(new ChartPainter(), boardOf(['- -', '-']), BELOW);
    const far = painted(
      new ChartPainter(),
      boardOf(['- -', '-']),
      { ...ALL, top: 85 },
      { view: { unit: 7, row: 5.6, x: 100, y: 80 } },
    );
    expect([count(near, 'stroke') > 0, count(far, 'stroke')]).toEqual([true, 0]);
    const tiny = painted(
      new ChartPainter(),
      boardOf(['f f']),
      { ...ALL, top: 82 },
      { view: { unit: 1.5, row: 1.2, x: 100, y: 80 } },
    );
    expect(count(tiny, 'image')).toBe(0);
    // Plain lozenges that touch each other, red and blue, where the two knots are.
    const knots = tiny.filter(({ how, points }) => how === 'fill' && points.length === 4);
    expect(knots.map(({ colour }) => colour)).toEqual(['#cc2222', '#2244cc']);
    expect(
      knots.map(({ box: [left, top, right, bottom] }) => [(left + right) / 2, (top + bottom) / 2]),
    ).toEqual([
      [100.75, 81.2],
      [103.75, 81.2],
    ]);
    expect(knots[0]!.box[2]).toBeGreaterThan(knots[1]!.box[0]);
  });

  it('its knots bear the texture of the colour that shows; in a comparison all bear the strokes of one kind', () => {
    const { model, view } = sceneOf(boardOf(['f b', '-']));
    const knots = (look: Partial<Parameters<typeof drawKnots>[5]>): readonly (readonly Drawn[])[] =>
      drawnBy((context) =>
        drawKnots(context, new KnotSprites(), model, view, wholeBand(model), { ratio: 1, ...look }),
      ).map(({ picture }) => picture);
    const [red, second] = knots({});
    expect([red![0]!.colour, second![0]!.colour]).toEqual(['#cc2222', '#cc2222']);
    const strokes = (picture: readonly Drawn[] | undefined) => picture!.at(-1)!.points;
    expect(strokes(red)).not.toEqual(strokes(second));
    const alike = knots({ isAlike: true });
    expect(strokes(alike[1])).toEqual(strokes(alike[0]));
    const marks = (picture: readonly Drawn[] | undefined) =>
      picture!.filter(({ clip }) => clip !== null).length;
    expect(
      knots({ textures: [1, 0, 0, 0] })
        .map(marks)
        .map(Boolean),
    ).toEqual([true, false]);
    expect(
      knots({ textures: [0, 0, 0, 3] })
        .map(marks)
        .map(Boolean),
    ).toEqual([false, true]);
  });

  it('has pegs and arcs where the strip reaches up to them', () => {
    expect(count(painted(new ChartPainter(), boardOf(['f f'])), 'text')).toBeGreaterThan(0);
    expect(count(painted(new ChartPainter(), boardOf(['f f']), BELOW), 'text')).toBe(0);
  });
});

describe('the paths', () => {
  const ribbonsOf = (rows: readonly string[], textures: readonly number[]): readonly Drawn[] =>
    painted(new PathsPainter(), boardOf(rows), BELOW, { textures });
  const ribbons = (
    rows: readonly string[],
    more: Partial<Scene> = {},
    strip = BELOW,
    colours?: string[],
  ): readonly Drawn[] =>
    painted(new PathsPainter(), boardOf(rows, colours), strip, more).filter(
      ({ colour }) => /^#/.test(colour) && ['#cc2222', '#22aa44', '#2244cc'].includes(colour),
    );

  it('every string is one piece in each row, from the bar to its end', () => {
    for (const [colours, rows] of [
      [
        ['r', 'g', 'b', 'r'],
        ['f -', '-', '- b', 'fb'],
      ],
      [
        ['r', 'g', 'b'],
        ['f', 'b', '-'],
      ],
    ] as const) {
      const board = boardOf(rows, [...colours]);
      const pieces = painted(new PathsPainter(), board, BELOW).filter(
        ({ how, colour }) => how === 'stroke' && colour === 'page',
      );
      expect(pieces).toHaveLength(colours.length * (rows.length + 2));
      expect(Math.min(...pieces.map(({ box }) => box[1]))).toBe(80);
      expect(Math.max(...pieces.map(({ box }) => box[3]))).toBeGreaterThan(80 + 16 * (rows.length + 2));
    }
  });

  it.each(['f', 'b', 'fb', 'bf'])(
    'of a knot %s the string that shows lies on the other, and both go where they are tied to',
    (knot) => {
      const board = boardOf([knot], ['r', 'g']);
      const hexes = { r: '#cc2222', g: '#22aa44' } as const;
      const ways = ribbons([knot], {}, BELOW, ['r', 'g']).filter(({ how }) => how === 'stroke');
      const { shown, finalOrder } = weave(board.pattern);
      const colours = board.pattern.colours.map((id) => hexes[id as 'r' | 'g']);
      // From the bar, two in the knot, two ends.
      expect(ways).toHaveLength(6);
      expect(ways[3]!.colour).toBe(colours[shown[0]![0]!]);
      expect(ways[2]!.colour).not.toBe(ways[3]!.colour);
      expect(ways.slice(4).map(({ colour }) => colour)).toEqual(
        [...finalOrder].map((string) => colours[string]),
      );
      for (const { points, colour } of ways.slice(2, 4)) {
        const [from, to] = [points[0]![0], points.at(-1)![0]].map((x) => Math.round((x - 100) / 20));
        expect([from, to]).toEqual([
          colours.indexOf(colour as '#cc2222'),
          [...finalOrder].map((string) => colours[string]).indexOf(colour as '#cc2222'),
        ]);
      }
    },
  );

  it('draws nothing that lies outside the strip, and all that reaches into it', () => {
    for (const board of [sampleBoard(13, 30, 1), sampleBoard(12, 30)]) {
      const whole = painted(new PathsPainter(), board, { left: 0, top: 90, width: 900, height: 900 });
      for (const strip of [
        { left: 190, top: 200, width: 35, height: 40 },
        { left: 0, top: 300, width: 95, height: 30 },
        { left: 330, top: 520, width: 60, height: 60 },
      ]) {
        const part = painted(new PathsPainter(), board, strip);
        for (const { box } of part) {
          expect(box[0]).toBeGreaterThan(strip.left - 80);
          expect(box[2]).toBeLessThan(strip.left + strip.width + 80);
        }
        expect(part.length).toBeLessThan(whole.length / 3);
        const reaching = whole.filter(
          ({ box, width }) =>
            box[0] - width / 2 < strip.left + strip.width &&
            box[2] + width / 2 > strip.left &&
            box[1] < strip.top + strip.height &&
            box[3] > strip.top,
        );
        expect(part).toEqual(expect.arrayContaining([...reaching]));
      }
    }
  });

  it('a string in sight bears its texture on every piece', () => {
    const dashes = ribbonsOf(['f -', '-'], [0, 1, 0, 0]).filter(({ dash }) => dash.length > 0);
    expect(dashes).toHaveLength(4);
    expect(new Set(dashes.map(({ colour }) => colour))).toEqual(new Set([inkOn('#22aa44')]));
  });

  it('from far away a ribbon is one stroke on another; near it has light and texture', () => {
    const all = (unit: number, textures: readonly number[] | null = null) =>
      count(
        painted(new PathsPainter(), boardOf(['- -']), BELOW, {
          view: { unit, row: unit, x: 100, y: 80 },
          textures,
        }),
        'stroke',
      );
    expect(all(7)).toBeLessThan(all(20));
    expect(all(20, [1, 0, 0, 0])).toBeGreaterThan(all(20));
  });

  it('has pegs where the strip reaches up to them', () => {
    expect(count(painted(new PathsPainter(), boardOf(['f f'])), 'text')).toBeGreaterThan(0);
  });
});
