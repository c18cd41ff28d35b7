/** The layers of the board: drawn once a frame and only when stale, at the pixels of the screen, with the same row in sight. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Board, planBoard } from '../../../engine/index.ts';
import { BoardCanvas, type CanvasOptions } from '../../../web/board/board-canvas.ts';
import { type BoardModel, modelOf } from '../../../web/board/board-model.ts';
import { later } from '../../../web/board/later-drawing.ts';
import type { OtherMaker } from '../../../web/board/draw-others.ts';
import type { Overlay } from '../../../web/board/draw-overlay.ts';
import { headHeight } from '../../../web/board/head-layout.ts';
import type { Painter, Scene } from '../../../web/board/painter.ts';
import { PLAIN_OVERLAY } from '../../support/plain-overlay.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { type Frames, stubFrames } from '../../support/stub-frames.ts';

const FINCH: OtherMaker = { name: 'Finch', hex: '#2f6f73', at: { row: 1, k: 1 }, selection: null };

/** A canvas that counts how often it was wiped, which begins each drawing of a layer. */
function stubCanvas(hasContext = true) {
  const canvas = {
    width: 0,
    height: 0,
    hidden: false,
    wiped: 0,
    getContext: () => (hasContext ? context : null),
  };
  const known: Record<string, unknown> = {
    clearRect: () => {
      canvas.wiped += 1;
    },
    measureText: () => ({ width: 10 }),
  };
  const context = new Proxy(known, { get: (target, name) => target[String(name)] ?? (() => {}) });
  return canvas;
}

/** A painter that remembers what it was to draw. */
function stubPainter(rowPerPlace = 0.8): Painter & { readonly scenes: Scene[] } {
  const scenes: Scene[] = [];
  return { rowPerPlace, hasCarriers: false, scenes, paint: (_context, scene) => void scenes.push(scene) };
}

let frames: Frames;
let box: { width: number; height: number };
let model: BoardModel;
let overlay: Overlay;
let others: readonly OtherMaker[];
let views: number;
let canvases: Record<'pattern' | 'overlay' | 'others', ReturnType<typeof stubCanvas>>;
let painter: ReturnType<typeof stubPainter>;
const made: BoardCanvas[] = [];

beforeEach(() => {
  frames = stubFrames();
  vi.stubGlobal(
    'Path2D',
    class {
      moveTo(): void {}
      lineTo(): void {}
      arcTo(): void {}
      closePath(): void {}
      ellipse(): void {}
    },
  );
  vi.stubGlobal('getComputedStyle', () => ({ fontFamily: 'sans', getPropertyValue: (name: string) => name }));
  box = { width: 800, height: 600 };
  model = modelOf(sampleBoard(8, 12), null);
  overlay = PLAIN_OVERLAY;
  others = [];
  views = 0;
  canvases = { pattern: stubCanvas(), overlay: stubCanvas(), others: stubCanvas() };
  painter = stubPainter();
});
afterEach(() => {
  for (const canvas of made.splice(0)) canvas.dispose();
  vi.unstubAllGlobals();
});

function canvasOf(more: Partial<CanvasOptions> = {}): BoardCanvas {
  const canvas = new BoardCanvas(
    { getBoundingClientRect: () => box } as unknown as HTMLElement,
    canvases as never,
    painter,
    {
      source: () => ({ model, overlay, others }),
      onView: () => {
        views += 1;
      },
      ...more,
    },
  );
  made.push(canvas);
  return canvas;
}
/** One that has drawn its first frame. */
function drawn(): BoardCanvas {
  const canvas = canvasOf();
  canvas.useLater(later);
  frames.next();
  return canvas;
}
const wiped = (): readonly number[] => [canvases.overlay.wiped, canvases.others.wiped];

describe('a frame', () => {
  it('draws each layer once, however often it was called stale, and nothing where nothing is', () => {
    const canvas = drawn();
    expect([painter.scenes.length, ...wiped()]).toEqual([1, 1, 1]);
    expect(frames.waiting).toBe(0);
    overlay = { ...PLAIN_OVERLAY, hover: { row: 2, k: 1 } };
    for (let i = 0; i < 5; i += 1) canvas.invalidate('overlay');
    expect(frames.waiting).toBe(1);
    frames.next();
    expect([painter.scenes.length, ...wiped()]).toEqual([1, 2, 1]);
    canvas.invalidate('overlay', 'others', 'pattern');
    frames.next();
    expect([painter.scenes.length, ...wiped()]).toEqual([1, 2, 1]);
  });

  it('after an edit leaves the overlay alone, unless it shows something of the knots', () => {
    const canvas = drawn();
    const edit = (): void => {
      model = modelOf(sampleBoard(8, 12, 1), null);
      canvas.invalidate('pattern', 'overlay', 'others');
      frames.next();
    };
    expect(canvas.view.y).toBeGreaterThan(14);
    edit();
    expect([painter.scenes.at(-1)?.model, ...wiped()]).toEqual([model, 2, 1]);
    edit();
    expect(wiped()).toEqual([2, 1]);
    overlay = { ...PLAIN_OVERLAY, preview: [{ row: 1, k: 1, knot: 2 }] };
    edit();
    edit();
    expect(wiped()).toEqual([4, 1]);
  });

  it('hides the layer of the others while nobody is there', () => {
    const canvas = drawn();
    expect(canvases.others.hidden).toBe(true);
    others = [FINCH];
    canvas.invalidate('others');
    frames.next();
    expect([canvases.others.hidden, canvases.others.wiped]).toEqual([false, 2]);
    others = [];
    canvas.invalidate('others');
    frames.next();
    canvas.pan(5, 0);
    canvas.zoomBy(1.5);
    frames.next();
    expect([canvases.others.hidden, canvases.others.wiped]).toEqual([true, 3]);
  });

  it('tells those that follow it, before it draws', () => {
    const canvas = drawn();
    const seen: number[] = [];
    canvas.followers.add(() => seen.push(painter.scenes.length));
    canvas.zoomBy(0.5);
    frames.next();
    expect([seen, painter.scenes.length]).toEqual([[1], 2]);
  });

  it.each([
    ['before', canvasOf],
    ['after', drawn],
  ])('is drawn no more once the board is left %s it was drawn', (_when, make) => {
    const canvas = make();
    canvas.dispose();
    frames.turnRatio(2);
    expect([frames.waiting, frames.watched]).toEqual([0, 0]);
  });

  it('needs a canvas of the browser', () => {
    canvases.overlay = stubCanvas(false);
    canvasOf();
    expect(() => frames.next()).toThrow('overlay');
  });
});

describe('colours and textures', () => {
  it('are drawn anew when they are others, and only then', () => {
    const canvas = drawn();
    const textures = new Map([['r', 3]]);
    canvas.useTextures(textures);
    frames.next();
    expect(painter.scenes.at(-1)?.textures).toEqual(
      Array.from({ length: 8 }, (_, i) => (i % 3 === 0 ? 3 : 0)),
    );
    canvas.useTextures(textures);
    expect(frames.waiting).toBe(0);
    const before = painter.scenes.at(-1)?.theme;
    canvas.forgetTheme();
    frames.next();
    expect(painter.scenes.at(-1)?.theme).not.toBe(before);
    expect([painter.scenes.length, ...wiped()]).toEqual([3, 3, 1]);
  });
});

describe('the view', () => {
  it('shows the whole width of the board at first, and has as many pixels as the screen', () => {
    frames.ratio = 1.5;
    box = { width: 800.4, height: 600 };
    const canvas = drawn();
    for (const { width, height } of Object.values(canvases)) expect([width, height]).toEqual([1201, 900]);
    expect(canvas.size).toEqual({ width: 1201 / 1.5, height: 600 });
    const { view } = canvas;
    expect(view.x + 7.5 * view.unit).toBeLessThan(800);
    expect(view.y).toBe(headHeight(8, false));
    expect(views).toBe(1);
  });

  it('[B243] begins with the whole width, from the bar, and never under 16 px a string', () => {
    for (const [width, strings, unit] of [
      [360, 14, 19],
      [390, 14, 21],
      [390, 40, 16],
      [800, 60, 16],
      [800, 8, 40],
    ] as const) {
      box = { width, height: 600 };
      model = modelOf(sampleBoard(strings, 60), null);
      const { view } = drawn();
      expect([width, strings, view.unit]).toEqual([width, strings, unit]);
      expect(view.y).toBe(headHeight(strings, width <= 640));
      expect(view.x - unit / 2).toBeGreaterThanOrEqual(40);
    }
  });

  it('[B244] begins where it was left', () => {
    const first = drawn();
    expect(first.kept).toBeNull();
    model = modelOf(sampleBoard(8, 200), null);
    first.zoomBy(1.5);
    first.pan(0, -700);
    const { kept } = first;
    expect(canvasOf({ kept }).view).toEqual(first.view);
    expect(canvasOf({ kept }).kept).toEqual(kept);
  });

  it('[B240] stays where it is when the arcs are others, and while they are worked out', () => {
    const colours = (list: string): string[] => [...list];
    const boardOf = (list: string): Board => {
      const board = sampleBoard(8, 12);
      return { ...board, pattern: { ...board.pattern, colours: colours(list) } };
    };
    model = modelOf(boardOf('rrggbbrr'), null);
    const canvas = drawn();
    const { view } = canvas;
    for (const list of ['rgbrrbgr', 'rgrgrgrg', 'rgbrgbrg']) {
      for (const plan of [null, planBoard(boardOf(list))]) {
        model = { ...modelOf(boardOf(list), null), plan };
        canvas.reshape();
        expect(canvas.view).toEqual(view);
      }
    }
  });

  it('[B241] keeps what is held where it is, beyond the edge too; the hand brings it back without a jump', () => {
    const canvas = drawn();
    const { view } = canvas;
    model = modelOf(sampleBoard(10, 14), null);
    canvas.reshape({ x: 2, y: 2 });
    const held = { ...view, x: view.x - 2 * view.unit, y: view.y - 2 * view.row };
    expect(canvas.view).toEqual(held);
    canvas.pan(0, 3);
    expect(canvas.view).toEqual({ ...held, y: held.y + 3 });
    canvas.pan(0, 4000);
    expect(canvas.view.y).toBe(headHeight(10, false));
    // What was held and all that was in sight is gone.
    model = modelOf(sampleBoard(10, 200), null);
    canvas.pan(0, -3000);
    model = modelOf(sampleBoard(10, 4), null);
    canvas.reshape();
    expect(canvas.view.y).toBe(headHeight(10, false));
  });

  it('[B242] is fitted into what it has beside another look, with the same row at the top, and is as it was afterwards', () => {
    model = modelOf(sampleBoard(14, 200), null);
    const canvas = drawn();
    const { view } = canvas;
    canvas.setBeside(true);
    expect(canvas.view.y).toBe(headHeight(14, true));
    canvas.setBeside(false);
    expect(canvas.view).toEqual(view);
    canvas.pan(0, -1000);
    const before = canvas.view;
    box = { width: 480, height: 600 };
    canvas.setBeside(true);
    const beside = canvas.view;
    expect(beside.x + 13.5 * beside.unit).toBeLessThan(480);
    expect(-beside.y / beside.row).toBeCloseTo(-before.y / before.row, 0);
    box = { width: 800, height: 600 };
    canvas.setBeside(false);
    expect(canvas.view).toEqual(before);
  });

  it('stays where the maker put it when the board changes its size; the first board of all is fitted', () => {
    model = modelOf(sampleBoard(8, 0), null);
    const canvas = drawn();
    model = modelOf(sampleBoard(8, 12), null);
    canvas.reshape();
    const fitted = canvas.view;
    expect(fitted.unit).toBeGreaterThan(14);
    canvas.zoomBy(2);
    frames.next();
    // Of the same size, nothing is to be measured or drawn.
    canvas.reshape();
    expect(frames.waiting).toBe(0);
    const { unit } = canvas.view;
    model = modelOf(sampleBoard(8, 6), null);
    canvas.reshape();
    expect(canvas.view.unit).toBe(unit);
  });

  it('keeps its scale when the window does not, and is drawn anew', () => {
    const canvas = drawn();
    const { unit } = canvas.view;
    box = { width: 500, height: 600 };
    frames.resize();
    frames.next();
    expect([canvas.view.unit, canvas.size.width, painter.scenes.length]).toEqual([unit, 500, 2]);
    frames.turnRatio(2);
    frames.next();
    expect([canvases.pattern.width, painter.scenes.at(-1)?.ratio]).toEqual([1000, 2]);
  });

  it('of a page that is not shown is nothing, until it is', () => {
    box = { width: 0, height: 0 };
    const canvas = drawn();
    canvas.pan(50, 50);
    expect([painter.scenes.length, views]).toEqual([0, 0]);
    box = { width: 800, height: 600 };
    frames.resize();
    frames.next();
    expect([painter.scenes.length, views]).toEqual([1, 1]);
  });

  it('is zoomed by small steps that add up, where each alone would be rounded away', () => {
    const canvas = drawn();
    const before = canvas.view.unit;
    for (let i = 0; i < 40; i += 1) canvas.zoomBy(1.01);
    expect(canvas.view.unit).toBe(Math.round(before * 1.01 ** 40));
    canvas.fit('all');
    expect(canvas.view.y + 13 * canvas.view.row).toBeLessThan(600);
    canvas.fit('width');
    expect(canvas.view.unit).toBe(40);
    canvas.zoomBy(100);
    canvas.zoomBy(0.5);
    expect(canvas.view.unit).toBe(48);
  });

  it('moves, and tells so, as far as there is more of the board to see', () => {
    model = modelOf(sampleBoard(8, 200), null);
    const canvas = drawn();
    const { y } = canvas.view;
    const before = views;
    canvas.pan(0, -100);
    expect([canvas.view.y, views]).toEqual([y - 100, before + 1]);
    canvas.pan(0, 1000);
    canvas.pan(0, 1000);
    expect([canvas.view.y, views]).toEqual([y, before + 2]);
    canvas.reveal({ x: 3, y: 150 });
    const at = 150 * canvas.view.row + canvas.view.y;
    expect(at).toBeGreaterThan(0);
    expect(at).toBeLessThan(600);
  });

  it('keeps the row at the top in another look', () => {
    model = modelOf(sampleBoard(8, 200), null);
    const canvas = drawn();
    canvas.pan(0, -1000);
    const topRow = (): number => -canvas.view.y / canvas.view.row;
    const before = topRow();
    const other = stubPainter(1.6);
    canvas.setPainter(other);
    frames.next();
    expect(topRow()).toBeCloseTo(before, 0);
    expect([other.scenes.length, canvas.paintedArea]).toEqual([1, 2 * 800 * 600]);
    canvas.setPainter(other);
    expect(frames.waiting).toBe(0);
  });
});
