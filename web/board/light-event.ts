import type { Lit } from './lit-set.ts';

/** A panel asks the board to light something up; null = nothing any more. */
export class LightEvent extends Event {
  readonly lit: Lit | null;

  constructor(lit: Lit | null) {
    super('lb-light', { bubbles: true, composed: true });
    this.lit = lit;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-light': LightEvent;
  }
}
