/** Which keys stand for which action. */
import type { BoardAction } from './board-action.ts';
import { BOARD_ACTIONS } from './board-actions.ts';
import { keysOf } from './own-keys.ts';

/** What of a keyboard event matters here. */
export interface KeyPress {
  readonly key: string;
  readonly code: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly shiftKey: boolean;
  readonly altKey: boolean;
}

/** Whether the keys pressed are these, such as `Ctrl+Shift+Z` or `?`. Letters in either case; signs whatever makes them. */
export function matchesKeys(press: KeyPress, keys: string): boolean {
  const parts = keys === '+' ? ['+'] : keys.split('+');
  const name = parts[parts.length - 1] as string;
  const wants = (modifier: string): boolean => parts.slice(0, -1).includes(modifier);
  if (wants('Ctrl') !== (press.ctrlKey || press.metaKey) || wants('Alt') !== press.altKey) return false;
  const isSign = name.length === 1 && !/[a-z0-9]/i.test(name);
  if (!isSign && wants('Shift') !== press.shiftKey) return false;
  if (/^[0-9]$/.test(name)) return press.code === `Digit${name}` || press.code === `Numpad${name}`;
  if (name === 'Space') return press.key === ' ';
  return press.key.toLowerCase() === name.toLowerCase();
}

/** The action that the keys pressed stand for; null when there is none to do here. */
export function actionFor(press: KeyPress): BoardAction | null {
  return (
    BOARD_ACTIONS.find(
      (action) => action.isNative !== true && keysOf(action).some((keys) => matchesKeys(press, keys)),
    ) ?? null
  );
}
