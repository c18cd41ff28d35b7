/** The dialog of what goes in and out, fetched when it is first opened. */
import { LbInOut } from './lb-in-out.ts';
import { LbWholeBoard } from './lb-whole-board.ts';

/** Makes the dialog's elements known to the browser; a second call does nothing. */
export function defineInOut(): void {
  if (customElements.get('lb-whole-board') === undefined)
    customElements.define('lb-whole-board', LbWholeBoard);
  if (customElements.get('lb-in-out') === undefined) customElements.define('lb-in-out', LbInOut);
}

export { LbInOut };
