/** Keys as the browser tells them. */
import type { KeyPress } from '../../web/board/action-keys.ts';

/** A key pressed alone, unless `more` says otherwise; digits come from their own keys. */
export function keyPress(key: string, more: Partial<KeyPress> = {}): KeyPress {
  return {
    key,
    code: /^[0-9]$/.test(key) ? `Digit${key}` : '',
    ctrlKey: false,
    metaKey: false,
    shiftKey: false,
    altKey: false,
    ...more,
  };
}
