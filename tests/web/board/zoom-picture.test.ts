/** Large boards while they zoom: something at each frame, little drawn in each, and sharp soon after the hand rests. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { modelOf } from '../../../web/board/board-model.ts';
import type { Painter, Scene } from '../../../web/board/painter.ts';
import { PatternLayer } from '../../../web/board/pattern-layer.ts';
import type { Strip } from '../../../web/board/repaint.ts';
import type { Viewport } from '../../../web/board/viewport.ts';
import { beginZoom } from '../../../web/board/zoom-picture.ts';
import { BlockPainter, PixelCanvas, SIZE, sceneOf } from '../../support/pixel-canvas.ts';
import { sampleBoard } from '../../support/sample-board.ts';

beforeAll(() => vi.stubGlobal('OffscreenCanvas', PixelCanvas));
afterAll(() => vi.unstubAllGlobals());

/** Notes what it draws. */
class NotingPainter extends BlockPainter {
  readonly strips: Strip[] = [];
  override paint(context: CanvasRenderingContext2D, scene: Scene, strip: Strip): void {
    this.strips.push(strip);
    super.paint(context, scene, strip);
  }
}

function stage(painter: Painter, scene: Scene): { canvas: PixelCanvas; layer: PatternLayer } {
  const canvas = new PixelCanvas();
  const layer = new PatternLayer(canvas as unknown as HTMLCanvasElement);
  layer.beginZoom = beginZoom;
  expect(layer.draw(painter, scene, SIZE)).toBe(true);
  return { canvas, layer };
}

const MODEL = modelOf(sampleBoard(24, 40), null);
const BEFORE = sceneOf(MODEL);
const at = (view: Partial<Viewport>): Scene => sceneOf(MODEL, { view: { ...BEFORE.view, ...view } });
const FAR = at({ unit: 2, row: 3 });
const anew = (painter: Painter, scene: Scene): readonly string[] => stage(painter, scene).canvas.pixels;
const colourAt = ({ pixels }: PixelCanvas, x: number, y: number): string => pixels[y * SIZE.width + x]!;

/** Draws until it is sharp. @returns frames that took */
function settle(layer: PatternLayer, painter: Painter, scene: Scene): number {
  for (let frames = 1; frames < 100; frames++) if (layer.draw(painter, scene, SIZE)) return frames;
  return expect.unreachable('never sharp');
}

describe('[B420] a large board that zooms', () => {
  it('shows the picture of before at the new scale at once', () => {
    const painter = new BlockPainter(false);
    const { canvas, layer } = stage(painter, BEFORE);
    const knots = [9, 14, 21].map((row) => colourAt(canvas, 20 + 4 * 4, 16 + 4 * row));
    expect(new Set(knots).size).toBeGreaterThan(1);
    expect(layer.draw(painter, at({ unit: 2, row: 3, x: 10, y: 12 }), SIZE)).toBe(false);
    expect([9, 14, 21].map((row) => colourAt(canvas, 10 + 2 * 4, 12 + 3 * row))).toEqual(knots);
    // Where the picture of before reaches no more there is bare ground.
    expect(colourAt(canvas, SIZE.width - 1, SIZE.height - 1)).toBe(BEFORE.theme.page);
  });

  it('is sharp once the hand rests: as if all had been drawn anew', () => {
    const painter = new BlockPainter(false);
    const { canvas, layer } = stage(painter, BEFORE);
    const frames = settle(layer, painter, FAR);
    expect(frames).toBeGreaterThan(2);
    expect(canvas.pixels).toEqual(anew(painter, FAR));
    // And goes on from there as ever: what is scrolled in is drawn alone.
    const before = layer.paintedArea;
    const scrolled = at({ unit: 2, row: 3, y: 6 });
    expect(layer.draw(painter, scrolled, SIZE)).toBe(true);
    expect(layer.paintedArea - before).toBe(10 * SIZE.width);
    expect(canvas.pixels).toEqual(anew(painter, scrolled));
  });

  it('draws a part of what is in sight at each frame, while the hand goes on too, and then shows where it rests', () => {
    const painter = new NotingPainter(false);
    const { canvas, layer } = stage(painter, BEFORE);
    const scenes = Array.from({ length: 40 }, (_, n) => at({ unit: n % 2 === 0 ? 2 : 4, row: 3, y: 16 - n }));
    for (const scene of scenes) {
      painter.strips.length = 0;
      layer.draw(painter, scene, SIZE);
      expect(painter.strips).toHaveLength(1);
      expect(painter.strips[0]!.height).toBeLessThanOrEqual(SIZE.height / 2);
    }
    const last = scenes.at(-1)!;
    settle(layer, painter, last);
    expect(canvas.pixels).toEqual(anew(new BlockPainter(false), last));
  });

  it('an edit, a look or another size meanwhile is drawn whole', () => {
    const other = modelOf(sampleBoard(24, 38), null);
    const changes: readonly (readonly [Scene, Painter])[] = [
      [{ ...FAR, model: other }, new BlockPainter(false)],
      [{ ...FAR, theme: { ...FAR.theme, page: 'another page' } }, new BlockPainter(false)],
      [FAR, new BlockPainter(false, 'another look')],
    ];
    for (const [scene, next] of changes) {
      const painter = new BlockPainter(false);
      const { canvas, layer } = stage(painter, BEFORE);
      expect(layer.draw(painter, FAR, SIZE)).toBe(false);
      expect(layer.draw(next, scene, SIZE)).toBe(true);
      expect(canvas.pixels).toEqual(anew(next, scene));
    }
  });

  it('is drawn at once where little is in sight', () => {
    const painter = new NotingPainter(false);
    const small = modelOf(sampleBoard(8, 10), null);
    const { layer } = stage(painter, sceneOf(small));
    painter.strips.length = 0;
    expect(layer.draw(painter, sceneOf(small, { view: FAR.view }), SIZE)).toBe(true);
    expect(painter.strips).toEqual([{ left: 0, top: 0, ...SIZE }]);
  });

  it('however many knots come into sight, it is sharp within a third of a second of frames', () => {
    const painter = new BlockPainter(false);
    const large = sceneOf(modelOf(sampleBoard(70, 400), null));
    const { layer } = stage(painter, large);
    const frames = settle(layer, painter, { ...large, view: { unit: 2, row: 1, x: 0, y: 4 } });
    expect(frames).toBeGreaterThan(15);
    expect(frames).toBeLessThanOrEqual(18);
  });
});
