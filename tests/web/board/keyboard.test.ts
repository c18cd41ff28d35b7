import { describe, expect, it } from 'vitest';
import { staggerOf } from '../../../engine/index.ts';
import { actionFor, type KeyPress, matchesKeys } from '../../../web/board/action-keys.ts';
import { BOARD_ACTIONS } from '../../../web/board/board-actions.ts';
import { spotAfter } from '../../../web/board/keyboard.ts';
import type { Spot } from '../../../web/board/spot.ts';
import { keyPress } from '../../support/key-press.ts';
import { samplePattern } from '../../support/sample-board.ts';

describe('keys', () => {
  const stagger = staggerOf(samplePattern(8, 30));
  const go = (spot: Spot, ...keys: readonly (string | KeyPress)[]): Spot =>
    keys.reduce<Spot>(
      (at, key) => spotAfter(stagger, at, typeof key === 'string' ? keyPress(key) : key) ?? at,
      spot,
    );
  const knot = (row: number, k: number): Spot => ({ on: 'knot', row, k });

  it('[B70] arrows move by one and stop at the edges, as in a data grid (W3C ARIA Authoring Practices, grid pattern)', () => {
    expect(go(knot(4, 1), 'ArrowRight')).toEqual(knot(4, 2));
    expect(go(knot(4, 3), 'ArrowRight')).toEqual(knot(4, 3));
    expect(go(knot(4, 0), 'ArrowLeft')).toEqual(knot(4, 0));
    expect(go(knot(29, 1), 'ArrowDown')).toEqual(knot(29, 1));
    expect(go(knot(4, 3), 'ArrowDown')).toEqual(knot(5, 2));
    expect(go(knot(4, 1), 'ArrowDown', 'ArrowUp')).toEqual(knot(4, 1));
  });

  it('[B70] Home and End of the row, with Ctrl of the board; Page Up and Down by ten rows', () => {
    expect(go(knot(4, 2), 'Home')).toEqual(knot(4, 0));
    expect(go(knot(4, 0), 'End')).toEqual(knot(4, 3));
    expect(go(knot(9, 1), keyPress('Home', { ctrlKey: true }))).toEqual(knot(0, 0));
    expect(go(knot(0, 0), keyPress('End', { metaKey: true }))).toEqual(knot(29, 2));
    expect(go(knot(4, 1), 'PageDown')).toEqual(knot(14, 1));
    expect(go(knot(4, 1), 'PageUp')).toEqual(knot(0, 1));
  });

  it('[B70] the pegs are the row above the first', () => {
    expect(go(knot(0, 1), 'ArrowUp')).toEqual({ on: 'peg', place: 2 });
    expect(go({ on: 'peg', place: 2 }, 'ArrowRight', 'ArrowDown')).toEqual(knot(0, 1));
    expect(go({ on: 'peg', place: 0 }, 'ArrowLeft')).toEqual({ on: 'peg', place: 0 });
    expect(go({ on: 'peg', place: 0 }, 'End')).toEqual({ on: 'peg', place: 7 });
  });

  it('[B70] no two actions have the same keys, and none takes a key that moves', () => {
    const seen = new Map<string, string>();
    for (const { id, keys = [] } of BOARD_ACTIONS)
      for (const one of keys) {
        expect(seen.get(one) ?? id, `${one} of ${id}`).toBe(id);
        seen.set(one, id);
      }
    for (const key of ['ArrowUp', 'Home', 'PageDown', 'Enter']) expect(actionFor(keyPress(key))).toBeNull();
  });

  it('[B70] keys match whatever the keyboard makes of them', () => {
    expect(matchesKeys(keyPress('?', { shiftKey: true }), '?')).toBe(true);
    expect(matchesKeys(keyPress('+', { shiftKey: true }), '+')).toBe(true);
    expect(matchesKeys(keyPress('!', { code: 'Digit1', shiftKey: true }), 'Shift+1')).toBe(true);
    expect(matchesKeys(keyPress('&', { code: 'Digit1' }), '1')).toBe(true);
    expect(matchesKeys(keyPress('z', { metaKey: true }), 'Ctrl+Z')).toBe(true);
    expect(matchesKeys(keyPress('Z', { ctrlKey: true, shiftKey: true }), 'Ctrl+Z')).toBe(false);
    expect(actionFor(keyPress('Z', { ctrlKey: true, shiftKey: true }))?.id).toBe('redo');
    expect(actionFor(keyPress('c', { ctrlKey: true }))).toBeNull();
  });
});
