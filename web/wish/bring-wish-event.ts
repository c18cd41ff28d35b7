import type { Wish } from '../../engine/index.ts';

/** A wish comes from elsewhere (an image, letters, a motif) to be gone on with. Its size may be another than the board's. */
export class BringWishEvent extends Event {
  readonly wish: Wish;

  constructor(wish: Wish) {
    super('lb-bring-wish', { bubbles: true, composed: true });
    this.wish = wish;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-bring-wish': BringWishEvent;
  }
}
