/** Giving an action another key: what was pressed, whether it can be one, and what becomes of who had it. */
import { type KeyPress, matchesKeys } from './action-keys.ts';
import type { BoardAction } from './board-action.ts';
import { BOARD_ACTIONS } from './board-actions.ts';
import { keysOf, OWN_KEYS, type OwnKeys, ownKeys } from './own-keys.ts';

/** Keys with which one moves about, on the board and on any page. */
const MOVES = new Set(
  'Tab Enter Escape ArrowUp ArrowDown ArrowLeft ArrowRight Home End PageUp PageDown'.split(' '),
);

/** The keys pressed, as they are written: `Ctrl+Shift+Z`, `?`. Null while only Ctrl, Alt or Shift is held. */
export function writtenKeys({ key, code, ctrlKey, metaKey, altKey, shiftKey }: KeyPress): string | null {
  if (['Control', 'Meta', 'Alt', 'AltGraph', 'Shift', 'Dead', 'Process', 'Unidentified'].includes(key))
    return null;
  const digit = /^(?:Digit|Numpad)([0-9])$/.exec(code)?.[1];
  const name = digit ?? (key === ' ' ? 'Space' : key.length === 1 ? key.toUpperCase() : key);
  const isSign = name.length === 1 && !/[A-Z0-9]/.test(name);
  return [
    ...(ctrlKey || metaKey ? ['Ctrl'] : []),
    ...(altKey ? ['Alt'] : []),
    // A sign is the same whatever makes it.
    ...(shiftKey && !isSign ? ['Shift'] : []),
    name,
  ].join('+');
}

/** Whether keys can be given: not those that move, nor those of the clipboard, which the browser has its own way with. */
export function canBeGiven(press: KeyPress): boolean {
  if (MOVES.has(press.key) && !press.ctrlKey && !press.altKey && !press.metaKey) return false;
  if (press.key === ' ' && !press.ctrlKey && !press.altKey && !press.metaKey && !press.shiftKey) return false;
  return !BOARD_ACTIONS.some(
    ({ isNative, keys }) => isNative === true && keys?.some((one) => matchesKeys(press, one)),
  );
}

/** Who has these keys now; null = nobody, or the action itself. */
export function holderOf(keys: string, but: BoardAction): BoardAction | null {
  return BOARD_ACTIONS.find((one) => one !== but && keysOf(one).includes(keys)) ?? null;
}

/** The keys, when an action is given these: nobody else has them as their own any more. */
export function given(own: OwnKeys, { id, keys = [] }: BoardAction, wanted: string): OwnKeys {
  const others = Object.entries(own.keys).filter(([one, has]) => one !== id && has !== wanted);
  const isOld = keys[0] === wanted;
  return { ...own, keys: Object.fromEntries(isOld ? others : [...others, [id, wanted]]) };
}

/** Keeps them for the next visit too, and tells whoever shows keys. */
export function keepOwnKeys(own: OwnKeys): void {
  if (own.hasSingles && Object.keys(own.keys).length === 0) localStorage.removeItem(OWN_KEYS);
  else localStorage.setItem(OWN_KEYS, JSON.stringify(own));
  ownKeys.set(own);
}
