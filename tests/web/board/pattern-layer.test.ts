/** The canvas of the pattern: after every drawing it shows what drawing all anew would, and it draws little for little. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { Board } from '../../../engine/index.ts';
import { type BoardModel, modelOf } from '../../../web/board/board-model.ts';
import type { Painter } from '../../../web/board/painter.ts';
import { PatternLayer } from '../../../web/board/pattern-layer.ts';
import { BlockPainter, PixelCanvas, SIZE, sceneOf } from '../../support/pixel-canvas.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { THEME } from '../../support/scene.ts';
import { seededRandom } from '../../support/seeded-random.ts';

interface Stage {
  readonly canvas: PixelCanvas;
  readonly layer: PatternLayer;
}
function stage(): Stage {
  const canvas = new PixelCanvas();
  return { canvas, layer: new PatternLayer(canvas as unknown as HTMLCanvasElement) };
}

/** The board with one knot tied otherwise. */
function tied(model: BoardModel, row: number, place: number, knot: number): BoardModel {
  const { board, start } = model;
  const knots = board.pattern.knots.slice();
  const k = (place - ((start + row) & 1)) >> 1;
  knots[row * (model.strings >> 1) + k] = knot;
  return modelOf({ ...board, pattern: { ...board.pattern, knots } }, model, [{ row, k }]);
}

beforeAll(() => vi.stubGlobal('OffscreenCanvas', PixelCanvas));
afterAll(() => vi.unstubAllGlobals());

const PAINTER = new BlockPainter(false);
const boardOf = (): Board => sampleBoard(24, 40);

describe('the canvas of the pattern', () => {
  it('[B68] shows after each of 400 edits, scrolls and other changes what drawing all anew would show', () => {
    const done = { edit: 0, scroll: 0, both: 0, zoom: 0, colours: 0, plan: 0, theme: 0, look: 0, part: 0 };
    for (const hasCarriers of [false, true]) {
      const random = seededRandom(hasCarriers ? 5 : 6);
      const upTo = (count: number): number => Math.floor(random.next() * count);
      const kept = stage();
      let painter: Painter = new BlockPainter(hasCarriers);
      let scene = sceneOf(modelOf(boardOf(), null));
      const edit = (): void => {
        const row = upTo(40);
        const place = ((scene.model.start + row) & 1) + 2 * upTo(11);
        scene = { ...scene, model: tied(scene.model, row, place, upTo(5)) };
      };
      const scroll = (): void => {
        const { view } = scene;
        scene = { ...scene, view: { ...view, x: view.x + upTo(31) - 15, y: view.y + upTo(61) - 30 } };
      };
      const recolour = (): void => {
        const { board } = scene.model;
        const palette = board.palette.map((colour, i) =>
          i === 1 ? { ...colour, hex: `#0000${10 + upTo(80)}` } : colour,
        );
        scene = { ...scene, model: modelOf({ ...board, palette }, scene.model) };
      };
      const changes: Readonly<Record<Exclude<keyof typeof done, 'part'>, () => void>> = {
        edit,
        scroll,
        both: () => {
          edit();
          scroll();
        },
        zoom: () => {
          const unit = 4 + 2 * upTo(2);
          scene = { ...scene, view: { unit, row: unit, x: 20, y: 16 - 4 * upTo(20) } };
        },
        colours: recolour,
        plan: () => {
          scene = { ...scene, model: { ...scene.model, isPlanning: !scene.model.isPlanning } };
        },
        theme: () => {
          scene = { ...scene, theme: { ...THEME, page: `page ${upTo(9)}` } };
        },
        look: () => {
          painter = new BlockPainter(hasCarriers, `look ${upTo(9)}`);
        },
      };
      const names = Object.keys(changes) as (keyof typeof changes)[];
      for (let turn = 0; turn < 200; turn++) {
        // Edits and scrolls are what there is most of.
        const name = turn % 2 === 0 ? names[upTo(3)]! : names[upTo(names.length)]!;
        changes[name]();
        done[name]++;
        const before = kept.layer.paintedArea;
        kept.layer.draw(painter, scene, SIZE);
        if (kept.layer.paintedArea - before < SIZE.width * SIZE.height) done.part++;
        const anew = stage();
        anew.layer.draw(painter, scene, SIZE);
        const wrong = kept.canvas.pixels.findIndex((pixel, i) => pixel !== anew.canvas.pixels[i]);
        if (wrong >= 0)
          expect.unreachable(
            `after ${name} (turn ${turn}) ${wrong % SIZE.width}, ${Math.floor(wrong / SIZE.width)} is ${kept.canvas.pixels[wrong]}, not ${anew.canvas.pixels[wrong]}`,
          );
      }
    }
    for (const [name, count] of Object.entries(done)) expect([name, count > 10]).toEqual([name, true]);
    expect(done.part).toBeGreaterThan(200);
  });

  it('[B68] an edit draws its tiles, a scroll what comes into sight, the same again nothing', () => {
    const { layer } = stage();
    const all = SIZE.width * SIZE.height;
    const model = modelOf(sampleBoard(24, 40), null);
    layer.draw(PAINTER, sceneOf(model), SIZE);
    expect(layer.paintedArea).toBe(all);
    const first = sceneOf(model);
    layer.draw(PAINTER, { ...first }, SIZE);
    const seen = layer.paintedArea;
    layer.draw(PAINTER, { ...first }, SIZE);
    expect(layer.paintedArea).toBe(seen);
    const scrolled = { ...first, view: { ...first.view, y: first.view.y - 10 } };
    layer.draw(PAINTER, scrolled, SIZE);
    expect(layer.paintedArea - seen).toBe(10 * SIZE.width);
    const before = layer.paintedArea;
    // One that ties as before, in another kind that shows the same string.
    const at = { row: 14, place: 6 };
    const now = model.board.pattern.knots[at.row * 12 + 3]!;
    layer.draw(PAINTER, { ...scrolled, model: tied(model, at.row, at.place, now === 1 ? 3 : 1) }, SIZE);
    expect(layer.paintedArea - before).toBeGreaterThan(0);
    expect(layer.paintedArea - before).toBeLessThan(all);
    // Of the same board no tile is drawn, whatever was scrolled.
    expect(layer.paintedArea - before).not.toBe(all);
  });

  it('draws all anew on a screen of other pixels, in another size, and where the canvas was emptied', () => {
    const { layer } = stage();
    const scene = sceneOf(modelOf(sampleBoard(24, 40), null));
    const drew = (act: () => void): number => {
      const before = layer.paintedArea;
      act();
      return layer.paintedArea - before;
    };
    layer.draw(PAINTER, scene, SIZE);
    expect(drew(() => layer.draw(PAINTER, { ...scene, ratio: 2 }, SIZE))).toBe(140 * 120);
    expect(drew(() => layer.draw(PAINTER, { ...scene, ratio: 2 }, { width: 139, height: 120 }))).toBe(
      139 * 120,
    );
    expect(drew(() => layer.draw(PAINTER, { ...scene, ratio: 2 }, { width: 139, height: 119 }))).toBe(
      139 * 119,
    );
    layer.forget();
    expect(drew(() => layer.draw(PAINTER, { ...scene, ratio: 2 }, { width: 139, height: 119 }))).toBe(
      139 * 119,
    );
  });

  it('is opaque, which is cheaper; where the browser gives no canvas it is said', () => {
    expect(stage().canvas.asked).toEqual(['2d', { alpha: false }]);
    expect(() => new PatternLayer({ getContext: () => null } as unknown as HTMLCanvasElement)).toThrow(
      'no canvas',
    );
  });
});
