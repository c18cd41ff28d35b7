/** Pegs and arcs above the band. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type Board, patternFromText } from '../../../engine/index.ts';
import { drawHead } from '../../../web/board/draw-head.ts';
import type { Scene } from '../../../web/board/painter.ts';
import { type Drawn, drawnBy } from '../../support/recorded-canvas.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { sceneOf } from '../../support/scene.ts';

afterEach(() => vi.unstubAllGlobals());

const boardOf = (colours: readonly string[]): Board => ({
  ...sampleBoard(),
  pattern: patternFromText(colours, []),
});
const head = (colours: readonly string[], more: Partial<Scene> = {}): readonly Drawn[] =>
  drawnBy((context) => drawHead(context, sceneOf(boardOf(colours), more)));
const texts = (drawn: readonly Drawn[]): readonly string[] =>
  drawn.filter(({ how }) => how === 'text').map(({ text }) => text);
const NEAT = ['r', 'g', 'g', 'r'];
const wide = (unit: number) => ({ view: { unit, row: 16, x: 100, y: 80 } });

describe('pegs', () => {
  it('stand at each place in the colour of its string, numbered where there is room', () => {
    const drawn = head(NEAT);
    const pegs = drawn.filter(({ how, colour }) => how === 'fill' && colour.startsWith('#'));
    expect(pegs.map(({ colour }) => colour)).toEqual(['#cc2222', '#22aa44', '#22aa44', '#cc2222']);
    expect(texts(drawn).slice(-4)).toEqual(['1', '2', '3', '4']);
    expect(texts(head(NEAT, wide(19)))).toEqual(['1', '2']);
  });

  it('of a hundred strings need more room for a number', () => {
    const many = Array.from({ length: 102 }, () => 'r');
    const numbers = (unit: number): number =>
      texts(head(many, wide(unit))).filter((text) => text === '102').length;
    expect([numbers(29), numbers(30)]).toEqual([0, 1]);
  });

  it('bear the texture of their colour, with the number on a bare spot', () => {
    const plain = head(NEAT).length;
    expect(head(NEAT, { textures: [1, 0, 0, 0] }).length).toBeGreaterThan(plain + 1);
    expect(head(NEAT, { ...wide(5), textures: [1, 0, 0, 0] }).length).toBe(head(NEAT, wide(5)).length);
  });
});

describe('without a ring', () => {
  it('[B281] pegs stand as they did, with no bar and no arcs, however the colours cross', () => {
    const crossed = ['r', 'g', 'r', 'g'];
    const of = (piece: Board['piece']): readonly Drawn[] =>
      drawnBy((context) => drawHead(context, sceneOf({ ...boardOf(crossed), piece })));
    const pegs = (drawn: readonly Drawn[]) =>
      drawn.filter(({ how }) => how === 'fill').map(({ colour }) => colour);
    const onRing = of({});
    expect(onRing.some(({ colour, how }) => how === 'stroke' && colour === 'warn')).toBe(true);
    for (const begin of ['loose', 'loop', 'stick'] as const) {
      const drawn = of({ begin });
      expect(drawn.filter(({ how, width }) => how === 'stroke' && width > 1)).toEqual([]);
      expect(pegs(drawn)).toEqual(pegs(onRing).filter((colour) => colour.startsWith('#')));
      expect(texts(drawn)).toEqual(['1', '2', '3', '4']);
    }
  });
});

describe('arcs', () => {
  const arcs = (drawn: readonly Drawn[]): readonly Drawn[] =>
    drawn.filter(({ how, width }) => how === 'stroke' && width === 3);

  it('join the places of each folded string, in its colour and numbered', () => {
    const drawn = head(NEAT, wide(19));
    expect(
      arcs(drawn)
        .map(({ colour, box }) => [colour, box[0], box[2]])
        .sort(),
    ).toEqual([
      ['#22aa44', 119, 138],
      ['#cc2222', 100, 157],
    ]);
    expect(texts(drawn)).toEqual(['1', '2']);
  });

  it('that cross are warned of, by dashes and a mark at the number, not by colour alone', () => {
    const drawn = head(['r', 'g', 'r', 'g'], wide(19));
    expect(drawn.filter(({ colour, how }) => colour === 'warn' && how === 'stroke')).toHaveLength(2);
    expect(drawn.filter(({ dash }) => dash.length > 0)).toHaveLength(2);
    expect(texts(drawn)).toEqual(['1 !', '2 !']);
  });

  it('too small for a number have none; a single string is marked', () => {
    expect(texts(head(NEAT, wide(6)))).toHaveLength(1);
    expect(texts(head(NEAT, wide(4)))).toEqual([]);
    expect(texts(head(['r', 'g', 'g', 'r', 'b'], wide(19)))).toContain('|');
    expect(texts(head(['r', 'g', 'g', 'r', 'b'], wide(8)))).not.toContain('|');
  });

  it('are not drawn while the plan is looked for, or where there is none: it is said which', () => {
    const scene = sceneOf(boardOf(NEAT), wide(19));
    const said = (isPlanning: boolean) =>
      texts(
        drawnBy((context) =>
          drawHead(context, { ...scene, model: { ...scene.model, plan: null, isPlanning } }),
        ),
      );
    expect([said(true).length, said(false).length]).toEqual([1, 1]);
    expect(said(true)).not.toEqual(said(false));
  });
});
