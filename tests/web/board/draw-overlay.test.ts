/** What is drawn over the pattern, and where. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { patternFromText } from '../../../engine/index.ts';
import { drawMarks } from '../../../web/board/draw-marks.ts';
import { drawOthers } from '../../../web/board/draw-others.ts';
import { drawOverlay, type Overlay } from '../../../web/board/draw-overlay.ts';
import type { Scene } from '../../../web/board/painter.ts';
import { PLAIN_OVERLAY } from '../../support/plain-overlay.ts';
import { type Drawn, drawnBy } from '../../support/recorded-canvas.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { sceneOf } from '../../support/scene.ts';

afterEach(() => vi.unstubAllGlobals());

const size = { width: 400, height: 300 };
const over = (more: Partial<Overlay>, scene: Scene = sceneOf()): readonly Drawn[] =>
  drawnBy((context) => drawOverlay(context, scene, size, { ...PLAIN_OVERLAY, ...more }, drawMarks));
/** Without the numbers, which are always there. */
const marks = (more: Partial<Overlay>, scene?: Scene): readonly Drawn[] =>
  over(more, scene).filter(({ how, box }) => how !== 'text' && Number.isFinite(box[0]));
const texts = (drawn: readonly Drawn[]): readonly string[] =>
  drawn.filter(({ how }) => how === 'text').map(({ text }) => text);
const middle = ({ box: [left, top, right, bottom] }: Drawn): readonly number[] => [
  (left + right) / 2,
  (top + bottom) / 2,
];
const of = (colour: string, drawn: readonly Drawn[]): readonly Drawn[] =>
  drawn.filter((one) => one.colour === colour);

describe('marks of one’s own', () => {
  it('where one points is outlined, on a band of the page’s colour so that it shows on any other', () => {
    const [under, outline] = marks({ hover: { row: 0, k: 1 } });
    expect([under!.colour, outline!.colour]).toEqual(['page', 'text']);
    expect(under!.width).toBeGreaterThan(outline!.width);
    expect(middle(outline!)).toEqual([150, 96]);
    expect(marks({ hover: { row: 0, k: 3 } })).toEqual([]);
  });

  it('the keyboard’s knot or peg shows while the board has the focus', () => {
    const cursor = { row: 1, k: 0 };
    expect(marks({ cursor })).toEqual([]);
    expect(middle(of('accent', marks({ cursor, hasFocus: true }))[0]!)).toEqual([130, 112]);
    const [peg] = of('accent', marks({ peg: 2, hasFocus: true }));
    expect(middle(peg!)[0]).toBe(140);
    expect(peg!.box[3]).toBeLessThan(80);
    expect(marks({ hasFocus: true })).toEqual([]);
  });

  it('a selection is framed, where it would be moved to with dashes', () => {
    const block = { fromRow: 1, toRow: 2, fromPlace: 0, toPlace: 3 };
    const selected = of('accent', marks({ selection: block }));
    expect(selected.every(({ dash }) => dash.length === 0)).toBe(true);
    expect(selected[0]!.box).toEqual([90, 96, 170, 144]);
    expect(of('accent', marks({ shift: block })).some(({ dash }) => dash.length > 0)).toBe(true);
  });

  it('[B55] mirrored knots have dashes, axes run over the whole board', () => {
    const mirror = { upright: null, level: 2 };
    const of_ = marks({ hover: { row: 1, k: 0 }, ink: { kind: 'knot', knot: 1 }, mirror });
    const dashed = of('text', of_).filter(({ dash, how }) => dash.length > 0 && how === 'stroke');
    expect(dashed.map(middle)).toEqual([[130, 144]]);
    const [upright] = marks({ mirror: { upright: 2.5, level: null } });
    expect([upright!.box[0], upright!.box[2]]).toEqual([150, 150]);
    expect(upright!.box[3]).toBeGreaterThan(80 + 8 * 16);
    const [level] = marks({ mirror: { upright: null, level: 3 } });
    expect([level!.box[1], level!.box[3]]).toEqual([144, 144]);
  });

  it('[B59] a knot about to be tied shows in the colour it would have; an untied pair is outlined alone', () => {
    const untied = sceneOf({
      ...sampleBoard(),
      pattern: patternFromText(['r', 'g', 'b', 'r'], ['- -', '-', '- -', '-']),
    });
    const tied = marks({ preview: [{ row: 0, k: 0, knot: 1 }] }, untied);
    expect(of('#cc2222', tied).filter(({ how }) => how === 'fill')).toHaveLength(1);
    const other = marks({ preview: [{ row: 0, k: 0, knot: 2 }] }, untied);
    expect(of('#22aa44', other).filter(({ how }) => how === 'fill')).toHaveLength(1);
    expect(marks({ preview: [{ row: 0, k: 0, knot: 0 }] }, untied).map(({ colour }) => colour)).toEqual([
      'page',
      'accent',
    ]);
    expect(marks({ preview: [{ row: 0, k: 9, knot: 1 }] }, untied)).toEqual([]);
  });

  it('[B384] under the pointer is the colour that a press would show, and faint what it changes further down', () => {
    const scene = sceneOf({
      ...sampleBoard(),
      pattern: patternFromText(['r', 'g', 'b', 'r'], ['fb -', '-', 'f -', '-']),
    });
    const ink = { kind: 'knot', knot: 2 } as const;
    const fills = (more: Partial<Overlay>): readonly Drawn[] =>
      marks(more, scene).filter(({ how, colour }) => how === 'fill' && colour !== 'page');
    const drawn = fills({ hover: { row: 0, k: 0 }, ink });
    // Backward shows the right string, and the two change places: the forward knot two rows down shows it as well.
    expect(drawn.map((one) => [one.colour, ...middle(one)])).toEqual([
      ['#22aa44', 110, 96],
      ['#22aa44', 110, 128],
    ]);
    expect(drawn[1]!.alpha).toBeLessThan(drawn[0]!.alpha);
    expect(
      marks({ hover: { row: 0, k: 0 }, ink: { kind: 'knot', knot: 3 } }, scene).filter(
        ({ how }) => how === 'fill',
      ),
    ).toEqual([]);
    // Filling shows all that it would tie.
    const filled = marks({ hover: { row: 1, k: 0 }, ink: { kind: 'knot', knot: 1 }, isFilling: true }, scene);
    expect(filled.filter(({ how }) => how === 'fill').map((one) => middle(one)[1])).toContain(144);
  });
});

describe('what panels light', () => {
  it('stands out of a veil over all else; nothing lit has no veil', () => {
    const lit = marks({ lit: { knots: [{ row: 0, k: 1 }] } });
    expect(lit[0]).toMatchObject({ how: 'rect', colour: 'page', box: [0, 0, 400, 300] });
    expect(lit[0]!.alpha).toBeLessThan(1);
    expect(marks({ lit: {} })).toEqual([]);
    expect(marks({ lit: { knots: [{ row: 0, k: 9 }] } })).toHaveLength(1);
  });

  it('a fold is its arc and both its pegs; one that is mounted otherwise by now is nothing', () => {
    const scene = sceneOf({ ...sampleBoard(), pattern: patternFromText(['r', 'g', 'g', 'r'], ['f f']) });
    const lit = marks({ lit: { folds: [{ left: 0, right: 3 }] } }, scene);
    expect(
      lit.filter(({ how, colour }) => how === 'rect' && colour === '#cc2222').map((one) => middle(one)[0]),
    ).toEqual([100, 160]);
    expect(of('accent', lit)).toHaveLength(1);
    expect(marks({ lit: { folds: [{ left: 0, right: 1 }] } }, scene)).toHaveLength(1);
    expect(
      marks({ lit: { folds: [{ left: 0, right: 3 }] } }, { ...scene, model: { ...scene.model, plan: null } }),
    ).toHaveLength(1);
  });

  it('a string is lit on its whole way, in the chart with the knots that show it', () => {
    const scene = sceneOf({
      ...sampleBoard(),
      pattern: patternFromText(['r', 'g', 'b', 'r'], ['f -', '-', '- -', '-']),
    });
    const chart = of('#cc2222', marks({ lit: { strings: [0] } }, scene));
    expect(chart.filter(({ how }) => how === 'stroke')).toHaveLength(1);
    expect(chart.filter(({ how }) => how === 'fill')).toHaveLength(1);
    // Forward ties: the string of the first place goes on at the second.
    expect(chart[0]!.box[0]).toBe(100);
    expect(chart[0]!.box[2]).toBe(120);
    const paths = of('#cc2222', marks({ lit: { strings: [0] }, isPaths: true }, scene));
    expect(paths.map(({ how }) => how)).toEqual(['stroke']);
    expect(marks({ lit: { strings: [9] } }, scene)).toHaveLength(1);
  });

  it('of a string in a long board only what is in sight is drawn, also where it bends back', () => {
    const rows = Array.from({ length: 60 }, (_, i) => (i % 2 === 0 ? 'fb bf' : 'bf'));
    const scene = sceneOf(
      { ...sampleBoard(), pattern: patternFromText(['r', 'g', 'b', 'r'], rows) },
      { view: { unit: 20, row: 16, x: 100, y: -300 } },
    );
    for (const isPaths of [true, false]) {
      const ways = of('#22aa44', marks({ lit: { strings: [1] }, isPaths }, scene));
      expect(ways[0]!.box[1]).toBeGreaterThan(-80);
      expect(ways[0]!.box[3]).toBeLessThan(380);
    }
  });
});

describe('numbers', () => {
  it('stand at the first row and then as often as there is room', () => {
    expect(texts(over({}))).toEqual(['1', '2', '4', '6', '8']);
    const low = sceneOf(sampleBoard(6, 60), { view: { unit: 5, row: 4, x: 100, y: 80 } });
    expect(texts(over({}, low)).slice(0, 3)).toEqual(['5', '10', '15']);
  });

  it('stay in sight where the board is scrolled off, over a chip of the page’s colour', () => {
    const scene = sceneOf(sampleBoard(6, 8), { view: { unit: 20, row: 20, x: -50, y: 80 } });
    const drawn = over({}, scene);
    const numbers = drawn.filter(({ how }) => how === 'text');
    expect(numbers.map(({ box }) => box[0])).toEqual(numbers.map(() => 30));
    expect(of('page', drawn).filter(({ how }) => how === 'fill')).toHaveLength(numbers.length);
  });

  it('of the places stick to the top once the pegs are out of sight, over the strings that hang there', () => {
    const scene = sceneOf(sampleBoard(6, 40), { view: { unit: 30, row: 16, x: 100, y: -100 } });
    const places = over({}, scene).filter(({ how, box }) => how === 'text' && box[1] === 9);
    expect(places.map(({ text }) => text)).toEqual(['1', '2', '3', '4', '5', '6']);
    const order = scene.model.weave.orderFlat.subarray(6 * 6, 7 * 6);
    const colours = over({}, scene).filter(({ how, box }) => how === 'rect' && box[1] === 17);
    expect(colours.map(({ colour }) => colour)).toEqual(
      [...order].map((string) => scene.model.hexes[string]),
    );
    expect(over({}).some(({ box }) => box[1] === 9)).toBe(false);
    const narrow = sceneOf(sampleBoard(6, 40), { view: { unit: 6, row: 5, x: 100, y: -100 } });
    expect(
      over({}, narrow)
        .filter(({ how, box }) => how === 'text' && box[1] === 9)
        .map(({ text }) => text),
    ).toEqual(['5']);
  });

  it('a board without rows has none', () => {
    expect(
      texts(over({}, sceneOf(sampleBoard(6, 0), { view: { unit: 20, row: 16, x: 100, y: 0 } }))),
    ).toEqual([]);
  });
});

describe('the others', () => {
  const others = (more: object) =>
    drawnBy((context) =>
      drawOthers(context, sceneOf(), size, [
        { name: 'Fay', hex: '#336699', at: { row: 0, k: 1 }, selection: null, ...more },
      ]),
    );

  it('have their knot outlined in their colour, with their name beside it', () => {
    const drawn = others({});
    expect(of('#336699', drawn).map(({ how }) => how)).toEqual(['stroke', 'fill']);
    expect(texts(drawn)).toEqual(['Fay']);
    expect(texts(others({ at: { row: 2, k: 2 }, name: '🪡'.repeat(20) }))).toEqual([`${'🪡'.repeat(17)}…`]);
  });

  it('whose knot is nowhere here have none, but their selection shows', () => {
    expect(others({ at: null })).toEqual([]);
    expect(others({ at: { row: 0, k: 7 } })).toEqual([]);
    const selection = { fromRow: 0, toRow: 1, fromPlace: 0, toPlace: 2 };
    expect(of('#336699', others({ at: null, selection })).some(({ dash }) => dash.length > 0)).toBe(true);
  });

  it('the name stays on the canvas', () => {
    for (const { box } of drawnBy((context) =>
      drawOthers(context, sceneOf(sampleBoard(6, 8), { view: { unit: 20, row: 16, x: 330, y: 5 } }), size, [
        { name: 'Somebody with a name', hex: '#336699', at: { row: 0, k: 2 }, selection: null },
      ]),
    ).filter(({ how }) => how === 'text' || how === 'fill')) {
      expect(box[0]).toBeGreaterThanOrEqual(0);
      expect(box[2]).toBeLessThanOrEqual(size.width);
      expect(box[1]).toBeGreaterThanOrEqual(0);
    }
  });
});
