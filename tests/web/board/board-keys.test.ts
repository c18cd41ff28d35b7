/** What the keys do on the board, without a screen. */
import { describe, expect, it } from 'vitest';
import { BoardKeys } from '../../../web/board/board-keys.ts';
import { boardHost } from '../../support/board-host.ts';
import { keyPress } from '../../support/key-press.ts';

interface Pressed {
  readonly isTaken: boolean;
  readonly isHeard: boolean;
}

function keyboard(...how: Parameters<typeof boardHost>) {
  const board = boardHost(...how);
  const keys = new BoardKeys(board.host);
  const press = (key: string, more: object = {}): Pressed => {
    let [isTaken, isHeard] = [false, true];
    keys.down({
      ...keyPress(key, more),
      preventDefault: () => {
        isTaken = true;
      },
      stopPropagation: () => {
        isHeard = false;
      },
    } as unknown as KeyboardEvent);
    return { isTaken, isHeard };
  };
  return { ...board, keys, press };
}

describe('keys on the board', () => {
  it('[B70] arrows move, and with Shift select from where one was', () => {
    const { press, editor } = keyboard();
    press('ArrowRight');
    press('ArrowDown', { shiftKey: true });
    expect(editor.spot).toEqual({ on: 'knot', row: 1, k: 1 });
    expect(editor.selection).toMatchObject({ fromRow: 0, toRow: 1 });
    press('ArrowUp');
    expect(editor.spot).toEqual({ on: 'knot', row: 0, k: 1 });
  });

  it('[B70] Shift selects no pegs', () => {
    const { press, editor, asked } = keyboard();
    press('ArrowUp', { shiftKey: true });
    expect([editor.spot, editor.selection]).toEqual([{ on: 'peg', place: 0 }, null]);
    expect(asked.at(-1)).toMatch(/false$/);
  });

  it('[B70] what means nothing here is left to the page', () => {
    const { press } = keyboard();
    expect(press('q')).toEqual({ isTaken: false, isHeard: true });
    expect(press('Tab')).toEqual({ isTaken: false, isHeard: true });
    expect(press('ArrowRight')).toEqual({ isTaken: true, isHeard: false });
  });

  it('the space bar moves the view as long as it is held', () => {
    const { press, keys, asked } = keyboard();
    press(' ');
    keys.up({ key: 'a' } as KeyboardEvent);
    keys.up({ key: ' ' } as KeyboardEvent);
    expect(asked).toEqual(['space true', 'space false']);
  });

  it('[B70] with Ctrl or Shift the space bar selects along', () => {
    const { press, editor, asked } = keyboard();
    press(' ', { shiftKey: true });
    expect(editor.selection).toMatchObject({ fromRow: 0, toRow: 0, fromPlace: 0, toPlace: 5 });
    press(' ', { ctrlKey: true });
    expect(editor.selection).toMatchObject({ fromRow: 0, toRow: 5 });
    expect(asked.some((one) => one.startsWith('space'))).toBe(false);
  });

  it('a number ties its knot where the cursor is, and says what it became', () => {
    const { press, rows, asked } = keyboard();
    press('3');
    expect([rows()[0], asked]).toEqual(['fb - -', ['speak']]);
  });

  it('who only looks is told so, and nothing is tied', () => {
    const { press, rows, asked } = keyboard(undefined, { canEdit: false });
    expect(press('3').isTaken).toBe(true);
    expect([rows()[0], asked]).toEqual(['- - -', ['refuse']]);
  });

  it('an action that cannot be done now takes its keys and does nothing', () => {
    const { press, asked } = keyboard();
    expect(press('r').isTaken).toBe(true);
    expect(press('z', { ctrlKey: true }).isTaken).toBe(true);
    expect(asked).toEqual([]);
  });

  it('mirrored tying says whether it is on', () => {
    const { press, asked } = keyboard();
    press('m');
    press('m');
    expect(asked.map((one) => one.replace(/^say "(.*)"$/, '$1'))).toEqual([
      'Mirrored tying is on.',
      'Mirrored tying is off.',
    ]);
  });
});

describe('Enter', () => {
  const entered = (tool: Parameters<ReturnType<typeof boardHost>['editor']['choose']>[0]) => {
    const board = keyboard();
    board.editor.chooseKnot(1);
    board.editor.choose(tool);
    board.press('Enter');
    return board;
  };

  it('uses the tool: ties, fills and picks at once', () => {
    expect(entered('tie').rows()[0]).toBe('f - -');
    expect(entered('fill').rows().join(' ')).not.toContain('-');
    expect(entered('pick').news.at(-1)).toEqual({ kind: 'picked' });
  });

  it('begins a line or a selection, and ends it where one has moved to', () => {
    const line = entered('line');
    expect(line.editor.isInStroke).toBe(true);
    line.press('ArrowRight');
    line.press('Enter');
    expect([line.editor.isInStroke, line.rows()[0]?.startsWith('f')]).toEqual([false, true]);
    const chosen = entered('select');
    chosen.press('Enter');
    expect(chosen.editor.isInStroke).toBe(false);
    expect(chosen.editor.selection).not.toBeNull();
  });

  it('follows the string, and with the hand does nothing', () => {
    expect(entered('trace').editor.traced).not.toBeNull();
    const still = entered('pan');
    expect([still.rows()[0], still.editor.isInStroke]).toEqual(['- - -', false]);
  });

  it('on a peg uses the peg; on a board without rows nothing', () => {
    const { press, asked } = keyboard();
    press('ArrowUp');
    press('Enter');
    expect(asked.at(-1)).toBe('peg 0');
    const empty = keyboard({
      ...boardHost().design.snapshot.board,
      pattern: { ...boardHost().design.snapshot.board.pattern, rows: 0, knots: new Uint8Array() },
    });
    empty.press('Enter');
    expect(empty.asked).toEqual([]);
  });
});
