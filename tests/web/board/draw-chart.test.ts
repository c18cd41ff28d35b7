/** The chart and the paths: which strings and knots are drawn, in which colours, and only where something can be seen. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type Board, patternFromText } from '../../../engine/index.ts';
import { ChartPainter, rangeIn } from '../../../web/board/draw-chart.ts';
import { PathsPainter } from '../../../web/board/draw-paths.ts';
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
      { ...ALL, top: 85 },
      { view: { unit: 1.5, row: 1.2, x: 100, y: 80 } },
    );
    expect([count(tiny, 'image'), count(tiny, 'fill', '#cc2222') > 0]).toEqual([0, true]);
  });

  it('has pegs and arcs where the strip reaches up to them', () => {
    expect(count(painted(new ChartPainter(), boardOf(['f f'])), 'text')).toBeGreaterThan(0);
    expect(count(painted(new ChartPainter(), boardOf(['f f']), BELOW), 'text')).toBe(0);
  });
});

describe('the paths', () => {
  const ribbons = (rows: readonly string[], more: Partial<Scene> = {}, strip = BELOW) =>
    painted(new PathsPainter(), boardOf(rows), strip, more).filter(
      ({ colour }) => /^#/.test(colour) && ['#cc2222', '#22aa44', '#2244cc'].includes(colour),
    );

  it('every string is drawn from the bar to its end, over and under the others', () => {
    const drawn = ribbons(['f -', '-']);
    for (const colour of ['#cc2222', '#22aa44', '#2244cc'])
      expect([colour, drawn.some((one) => one.colour === colour)]).toEqual([colour, true]);
    // The string that lies on top of a knot is drawn after the other.
    const top = drawn.filter(({ box }) => box[1] >= 80 && box[3] <= 106 && box[0] < 125 && box[2] < 145);
    expect(top.length).toBeGreaterThan(1);
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
