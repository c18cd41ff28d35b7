/** What the pointer does on the board, without a screen: first place at x = 100, rows from y = 80, 20 px a place, 16 px a row. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { BoardPointer } from '../../../web/board/board-pointer.ts';
import * as pegHand from '../../../web/board/peg-hand.ts';
import { registerParts } from '../../../web/parts/index.ts';
import { boardHost, untiedBoard } from '../../support/board-host.ts';
import { until } from '../../support/until.ts';

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('window', globalThis);
  vi.stubGlobal('WheelEvent', { DOM_DELTA_LINE: 1 });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const VIEW = { unit: 20, row: 16, x: 100, y: 80 };
/** Middle of a knot in px of the window, in which the board begins at (10, 5). */
const on = (row: number, k: number): readonly [number, number] => [
  10 + VIEW.x + (2 * k + (row & 1) + 0.5) * VIEW.unit,
  5 + VIEW.y + (row + 1) * VIEW.row,
];
const peg = (place: number): readonly [number, number] => [10 + VIEW.x + place * VIEW.unit, 5 + VIEW.y - 20];
const BESIDE = [300, 5 + VIEW.y + 3 * VIEW.row] as const;

function pointer(
  more: {
    look?: 'chart' | 'paths';
    isSpaceHeld?: boolean;
    hasCanvas?: boolean;
    fingerTies?: boolean;
    hasHand?: boolean;
  } = {},
) {
  const { editor, rows, design } = boardHost(untiedBoard());
  const asked: unknown[][] = [];
  const cursor = { cursor: '' };
  const note =
    (name: string) =>
    (...args: readonly unknown[]): void =>
      void asked.push([name, ...args]);
  const canvas = { view: VIEW, pan: note('pan'), zoomBy: note('zoom'), invalidate: note('draw') };
  const board = new BoardPointer({
    editor,
    look: more.look ?? 'chart',
    stage: {
      getBoundingClientRect: () => ({ left: 10, top: 5 }),
      setPointerCapture: note('capture'),
      style: cursor,
    } as never,
    canvas: more.hasCanvas === false ? null : (canvas as never),
    isSpaceHeld: more.isSpaceHeld ?? false,
    focusCell: note('focus'),
    holdStill: () => {},
    fingerTies: more.fingerTies ?? true,
    tellPoint: note('point'),
    tellColour: note('colour'),
    say: note('say'),
    openMenu: note('menu'),
  });
  if (more.hasHand !== false) board.takeHand(pegHand);
  const stage = {};
  const event = ([clientX, clientY]: readonly [number, number], with_: object = {}): PointerEvent =>
    ({
      clientX,
      clientY,
      pointerId: 1,
      pointerType: 'mouse',
      button: 0,
      target: stage,
      currentTarget: stage,
      preventDefault: note('prevent'),
      ...with_,
    }) as unknown as PointerEvent;
  const names = (): readonly unknown[] => asked.map(([name]) => name);
  return { board, editor, rows, design, asked, names, event, cursor };
}

const TOUCH = { pointerType: 'touch' };

describe('strokes', () => {
  it('[B58] a drag ties what it passes, with all points between two frames', () => {
    const { board, event, rows, editor, names } = pointer();
    board.down(event(on(0, 0)));
    board.move(event(on(0, 2), { getCoalescedEvents: () => [event(on(0, 1)), event(on(0, 2))] }));
    board.up(event(on(0, 2)));
    expect([rows()[0], editor.isInStroke]).toEqual(['f f f', false]);
    expect(names().slice(0, 2)).toEqual(['capture', 'focus']);
  });

  it('[B69] one that is called off takes back what it tied', () => {
    const { board, event, rows } = pointer();
    board.down(event(on(0, 0)));
    board.cancel();
    board.move(event(on(0, 1)));
    expect(rows()[0]).toBe('- - -');
  });

  it('beside the band nothing is tied, and the selection is let go of', () => {
    const { board, event, rows, editor } = pointer();
    editor.selectAll();
    editor.choose('select');
    board.down(event(BESIDE));
    board.up(event(BESIDE));
    expect([rows().join(''), editor.selection]).toEqual([rows().join('').replace(/f/g, ''), null]);
  });

  it('a press on a button over the board, or with the right button, is none on the board', () => {
    const { board, event, names } = pointer();
    board.down(event(on(0, 0), { target: {} }));
    board.down(event(on(0, 0), { button: 2 }));
    board.touch(event(on(0, 0), { target: {} }) as never);
    expect(names()).toEqual([]);
    board.touch(event(on(0, 0)) as never);
    expect(names()).toEqual(['prevent']);
  });

  it.each([
    ['the hand', {}, {}, true],
    ['the space bar', { isSpaceHeld: true }, {}, false],
    ['the middle button', {}, { button: 1 }, false],
  ] as const)('with %s a drag moves the view', (_, more, with_, isHand) => {
    const { board, event, asked, rows, editor } = pointer(more);
    if (isHand) editor.choose('pan');
    board.down(event(on(0, 0), with_));
    board.move(event([on(0, 0)[0] + 7, on(0, 0)[1] - 2]));
    expect(asked).toContainEqual(['pan', 7, -2]);
    expect(rows()[0]).toBe('- - -');
  });
});

describe('pegs and strings', () => {
  it('a press on a peg gives its string the chosen colour', () => {
    const { board, event, editor, design } = pointer();
    editor.chooseColour('b');
    board.down(event(peg(0)));
    expect(editor.spot).toEqual({ on: 'peg', place: 0 });
    expect(design.snapshot.board.pattern.colours[0]).toBe('b');
  });

  it('[B385] with a colour in hand a stroke along pegs paints them, as one step of undo', () => {
    const { board, event, editor, design, cursor } = pointer();
    const colours = (): string => design.snapshot.board.pattern.colours.join('');
    editor.chooseColour('b');
    board.move(event(peg(1)));
    expect(cursor.cursor).toBe('grab');
    board.down(event(peg(1)));
    board.move(event(peg(4)));
    board.up(event(peg(4)));
    expect([colours(), editor.spot]).toEqual(['rbbbbb', { on: 'peg', place: 4 }]);
    design.undo();
    expect([colours(), design.canUndo]).toEqual(['rgbrgb', false]);
    board.move(event(on(1, 0)));
    expect(cursor.cursor).toBe('');
  });

  it('[B385] without one the peg goes along, beyond the last one too; called off it is where it was', () => {
    const { board, event, editor, design } = pointer();
    const colours = (): string => design.snapshot.board.pattern.colours.join('');
    board.down(event(peg(0)));
    board.move(event(peg(1)));
    expect(colours()).toBe('grbrgb');
    board.move(event(peg(9)));
    board.up(event(peg(9)));
    expect([colours(), editor.spot]).toEqual(['gbrgbr', { on: 'peg', place: 5 }]);
    board.down(event(peg(2)));
    board.move(event(peg(0)));
    board.cancel();
    expect(colours()).toBe('gbrgbr');
    design.undo();
    expect([colours(), design.canUndo]).toEqual(['rgbrgb', false]);
  });

  it('[B385] a stroke that is over before what does it was fetched is done all the same', async () => {
    vi.useRealTimers();
    let come: (file: object) => void = () => {};
    registerParts({ pegs: { file: () => new Promise((resolve) => (come = resolve)) } });
    const { board, event, editor, design } = pointer({ hasHand: false });
    editor.chooseColour('b');
    board.down(event(peg(0)));
    board.move(event(peg(2)));
    board.up(event(peg(2)));
    expect(design.snapshot.board.pattern.colours.join('')).toBe('rgbrgb');
    come(pegHand);
    await until('the pegs are painted', () => design.snapshot.board.pattern.colours.join('') === 'bbbrgb');
    design.undo();
    expect([design.snapshot.board.pattern.colours.join(''), design.canUndo]).toEqual(['rgbrgb', false]);
  });

  it('[B385] a finger takes hold of a peg also where it moves the board', () => {
    const { board, event, design, names } = pointer({ fingerTies: false });
    board.down(event(peg(0), TOUCH));
    board.move(event(peg(2), TOUCH));
    board.up(event(peg(2), TOUCH));
    expect([design.snapshot.board.pattern.colours.join(''), names().includes('pan')]).toEqual([
      'gbrrgb',
      false,
    ]);
  });

  it('with the picker it takes the colour of the string', () => {
    const { board, event, editor, asked } = pointer();
    editor.choose('pick');
    board.down(event(peg(1)));
    expect([editor.colour, asked.some(([name, colour]) => name === 'colour' && colour === 'g')]).toEqual([
      'g',
      true,
    ]);
  });

  it('above, below and beside the pegs there is none', () => {
    const { board, event, editor } = pointer();
    for (const at of [
      [110, 20],
      [70, 65],
      [400, 65],
    ] as const)
      board.down(event(at));
    expect(editor.spot.on).toBe('knot');
  });

  it('a string is followed from its peg, from a knot that shows it and from where it hangs, and it is said where it ends', () => {
    const { board, event, editor, asked } = pointer();
    editor.choose('trace');
    board.down(event(peg(2)));
    board.up(event(peg(2)));
    expect(editor.traced).toBe(2);
    expect(asked.find(([name]) => name === 'say')?.[1]).toMatch(/3/);
    board.down(event([on(2, 0)[0] - 6, on(2, 0)[1]]));
    expect(editor.traced).toBe(0);
    board.up(event(on(2, 0)));
    board.down(event(peg(0)));
    expect(editor.traced).toBeNull();
    expect(asked.filter(([name]) => name === 'say')).toHaveLength(2);
    board.up(event(peg(0)));
    editor.choose('tie');
    editor.press({ row: 0, k: 0 });
    editor.release();
    editor.choose('trace');
    board.down(event(on(0, 0)));
    expect(editor.traced).toBe(0);
    board.up(event(on(0, 0)));
    board.down(event(BESIDE));
    expect(editor.traced).toBe(0);
  });
});

describe('pointing', () => {
  it('[B69] tells of another knot once, and of a string only among ribbons', () => {
    const chart = pointer();
    chart.board.move(chart.event(on(1, 0)));
    chart.board.move(chart.event(on(1, 0)));
    expect(chart.names()).toEqual(['point', 'draw']);
    expect([chart.board.hover, chart.board.hoverString]).toEqual([{ row: 1, k: 0 }, null]);
    const paths = pointer({ look: 'paths' });
    paths.board.move(paths.event([on(1, 0)[0] - 6, on(1, 0)[1]]));
    expect(paths.board.hoverString).toBe(1);
    paths.board.move(paths.event(BESIDE));
    expect([paths.board.hover, paths.board.hoverString]).toEqual([null, null]);
  });

  it('before there is a picture it is on nothing', () => {
    const { board, event, editor } = pointer({ hasCanvas: false, look: 'paths' });
    board.move(event(on(0, 0)));
    board.down(event(on(0, 0)));
    board.wheel(event(on(0, 0), { deltaX: 0, deltaY: 5, deltaMode: 0 }) as never);
    expect([board.hover, board.hoverString, editor.isInStroke]).toEqual([null, null, false]);
  });

  it('a wheel scrolls, with Shift across, with Ctrl zooms; lines are taken as px', () => {
    const { board, event, asked } = pointer();
    const turn = (with_: object): unknown => {
      board.wheel(event(on(0, 0), { deltaX: 0, deltaY: 0, deltaMode: 0, ...with_ }) as never);
      return asked.at(-1);
    };
    expect(turn({ deltaX: 3, deltaY: 4 })).toEqual(['pan', -3, -4]);
    expect(turn({ deltaY: 2, deltaMode: 1 })).toEqual(['pan', -0, -36]);
    expect(turn({ deltaY: 4, shiftKey: true })).toEqual(['pan', -4, 0]);
    expect(turn({ deltaX: 4, deltaY: 1, shiftKey: true })).toEqual(['pan', -4, -1]);
    for (const key of ['ctrlKey', 'metaKey']) {
      const [name, factor] = turn({ deltaY: -24, [key]: true }) as [string, number];
      expect([name, factor > 1]).toEqual(['zoom', true]);
    }
  });
});

describe('the menu', () => {
  it('[B74] opens where the mouse asks for it, with the knot under it', () => {
    const { board, event, editor, asked } = pointer();
    board.menu(event(on(2, 1)));
    expect(editor.spot).toEqual({ on: 'knot', row: 2, k: 1 });
    expect(asked.at(-1)).toEqual(['menu', { px: on(2, 1)[0] - 10, py: on(2, 1)[1] - 5 }]);
    board.menu(event(peg(4)));
    expect([editor.spot, asked.at(-1)![0]]).toEqual([{ on: 'peg', place: 4 }, 'menu']);
    board.menu(event(on(2, 1)));
    board.menu(event(BESIDE));
    expect(editor.spot).toEqual({ on: 'knot', row: 2, k: 1 });
  });

  it('[B74] for a finger that rests opens when it is lifted, and ties nothing', () => {
    const { board, event, rows, names } = pointer();
    board.down(event(on(0, 1), TOUCH));
    vi.advanceTimersByTime(549);
    expect(board.hover).toBeNull();
    vi.advanceTimersByTime(1);
    expect([board.hover, names().includes('menu')]).toEqual([{ row: 0, k: 1 }, false]);
    board.up(event(on(0, 1), TOUCH));
    expect([names().filter((name) => name === 'menu').length, rows()[0], board.hover]).toEqual([
      1,
      '- - -',
      null,
    ]);
  });

  it('[B74] where the browser tells of the rest itself it opens once', () => {
    const { board, event, names } = pointer();
    board.down(event(on(0, 1), TOUCH));
    board.menu(event(on(0, 1), TOUCH));
    vi.advanceTimersByTime(1000);
    board.up(event(on(0, 1), TOUCH));
    expect(names().filter((name) => name === 'menu')).toHaveLength(1);
  });

  it('[B69] a finger that moves asks for none', () => {
    const { board, event, names, rows } = pointer();
    board.down(event(on(0, 0), TOUCH));
    board.move(event(on(0, 1), TOUCH));
    vi.advanceTimersByTime(1000);
    board.up(event(on(0, 1), TOUCH));
    expect([names().includes('menu'), rows()[0]]).toEqual([false, 'f f -']);
  });
});
