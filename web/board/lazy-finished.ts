/** The finished look: loaded when first shown. */
import { LbFinished } from './lb-finished.ts';

/** Makes its element known; again does nothing. */
export function defineFinished(): void {
  if (customElements.get('lb-finished') === undefined) customElements.define('lb-finished', LbFinished);
}
