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

  it('[B70] along the pegs go Home and End, with Ctrl to the last knot; Page Down goes ten rows in', () => {
    const peg = (place: number): Spot => ({ on: 'peg', place });
    expect(go(peg(5), 'Home')).toEqual(peg(0));
    expect(go(peg(2), keyPress('End', { ctrlKey: true }))).toEqual(knot(29, 2));
    expect(go(peg(4), 'PageDown')).toEqual(knot(9, 2));
    expect(go(peg(7), 'ArrowRight')).toEqual(peg(7));
    for (const key of ['ArrowUp', 'PageUp', 'a'])
      expect(spotAfter(stagger, peg(2), keyPress(key))).toBeNull();
  });

  it('[B70] below a peg that no knot of the first row takes lies the nearest one', () => {
    const odd = staggerOf(samplePattern(6, 4, 1));
    for (const [place, k] of [
      [0, 0],
      [1, 0],
      [2, 0],
      [5, 1],
    ] as const)
      expect([place, spotAfter(odd, { on: 'peg', place }, keyPress('ArrowDown'))]).toEqual([
        place,
        knot(0, k),
      ]);
  });

  it('[B70] without rows the pegs are all there is', () => {
    const bare = staggerOf(samplePattern(8, 0));
    for (const key of ['ArrowDown', 'PageDown'])
      expect([key, spotAfter(bare, { on: 'peg', place: 1 }, keyPress(key))]).toEqual([key, null]);
    expect(spotAfter(bare, { on: 'peg', place: 1 }, keyPress('End', { ctrlKey: true }))).toEqual({
      on: 'peg',
      place: 7,
    });
  });

  it('[B70] with Alt, keys belong to the browser and to what is done with the selection', () => {
    for (const spot of [knot(4, 1), { on: 'peg', place: 2 } as const])
      expect(spotAfter(stagger, spot, keyPress('ArrowLeft', { altKey: true }))).toBeNull();
    expect(spotAfter(stagger, knot(4, 1), keyPress('x'))).toBeNull();
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
