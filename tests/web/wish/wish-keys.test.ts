import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { OPEN, openWish } from '../../../engine/index.ts';
import { NO_OWN_KEYS, ownKeys } from '../../../web/board/own-keys.ts';
import { WishEditor } from '../../../web/wish/wish-editor.ts';
import { WishKeys } from '../../../web/wish/wish-keys.ts';

const PALETTE = ['#884422', '#2244aa'].map((hex, i) => ({ id: `c${i}`, name: '', hex }));

let editor: WishEditor;
let did: string[] = [];
let keys: WishKeys;

beforeEach(() => {
  did = [];
  editor = new WishEditor(openWish({ strings: 6, start: 0, rows: 4 }, PALETTE), {
    onChange: () => {},
    onWish: () => {},
    onNews: (news) => did.push(news),
  });
  keys = new WishKeys({
    editor,
    zoomBy: (factor) => did.push(factor > 1 ? 'in' : 'out'),
    fit: (what) => did.push(`fit ${what}`),
    holdSpace: (isHeld) => did.push(isHeld ? 'space' : 'no space'),
    moveTo: (row, k, extend) => {
      editor.moveTo({ row, k }, extend);
      if (editor.isInStroke) editor.drag({ row, k });
    },
    speak: () => {},
    close: () => did.push('close'),
  });
});
afterEach(() => ownKeys.set(NO_OWN_KEYS));

/** @returns whether the keys meant something */
function press(key: string, more: Partial<KeyboardEvent> = {}): boolean {
  let isTaken = false;
  const code = /^\d$/.test(key) ? `Digit${key}` : '';
  const none = { ctrlKey: false, metaKey: false, shiftKey: false, altKey: false };
  keys.down({
    ...{ key, code, ...none, ...more },
    preventDefault: () => {
      isTaken = true;
    },
    stopPropagation: () => {},
  } as KeyboardEvent);
  return isTaken;
}

const drawn = (): string[] =>
  editor.wish.rows.map((row) => row.map((cell) => (cell === OPEN ? '.' : cell)).join(''));

describe('keys on a wish', () => {
  it('[B332] arrows move, digits paint the colours in their order, 0 and Delete open', () => {
    expect(press('2')).toBe(true);
    press('ArrowRight');
    press('1');
    press('ArrowDown');
    press('2');
    expect(drawn()).toEqual(['10.', '.1', '...', '..']);
    press('0');
    press('ArrowUp');
    press('Delete');
    expect(drawn()).toEqual(['1..', '..', '...', '..']);
    // A colour that the palette has not paints nothing.
    expect(press('7')).toBe(true);
    expect(drawn()[0]).toBe('1..');
    expect(editor.ink).toBe(OPEN);
    press('ArrowUp');
    expect(editor.cursor).toEqual({ row: 0, k: 1 });
  });

  it('[B331] [B332] Enter uses the tool: a line and a block from Enter to Enter', () => {
    editor.chooseInk(1);
    press('l');
    expect(editor.tool).toBe('line');
    press('Enter');
    press('ArrowRight');
    press('ArrowRight');
    expect(editor.preview.length).toBe(3);
    press('Enter');
    expect(drawn()[0]).toBe('111');
    press('b');
    press('Enter');
    press('ArrowDown');
    press('Enter');
    expect(editor.selection).not.toBeNull();
    press('Escape');
    expect(editor.selection).toBeNull();
    expect(did).toEqual([]);
    press('Escape');
    expect(did).toEqual(['close']);
  });

  it('[B332] this maker’s own keys hold here too; where single letters are off, digits paint nothing', () => {
    ownKeys.set({ keys: { mirror: 'X' }, hasSingles: true });
    press('x');
    expect(editor.mirror.upright).toBe('middle');
    press('m');
    expect(editor.mirror.upright).toBe('middle');
    ownKeys.set({ keys: {}, hasSingles: false });
    expect(press('2')).toBe(false);
    expect(drawn()[0]).toBe('...');
  });

  it('[B333] Ctrl+Z takes back what was painted; what speaks of knots means nothing', () => {
    press('2');
    press('z', { ctrlKey: true });
    expect(drawn()[0]).toBe('...');
    press('y', { ctrlKey: true });
    expect(drawn()[0]).toBe('1..');
    expect(press('Insert')).toBe(false);
    press('+');
    press(' ');
    keys.up({ key: ' ' } as KeyboardEvent);
    expect(did).toEqual(['in', 'space', 'no space']);
  });
});
