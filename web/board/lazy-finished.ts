/** The finished look, and a second look beside the first: loaded when first shown. */
import { LbFinished } from './lb-finished.ts';
import { LbSecondLook } from './lb-second-look.ts';

/** Makes their elements known; again does nothing. */
export function defineFinished(): void {
  if (customElements.get('lb-finished') === undefined) customElements.define('lb-finished', LbFinished);
  if (customElements.get('lb-second-look') === undefined)
    customElements.define('lb-second-look', LbSecondLook);
}
