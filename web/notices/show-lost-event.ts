import type { LostPlace } from '../../engine/document/index.ts';

/** Somebody wants to see where something of theirs was changed; null: they have seen it. */
export class ShowLostEvent extends Event {
  readonly place: LostPlace | null;

  constructor(place: LostPlace | null) {
    super('lb-show-lost', { bubbles: true, composed: true });
    this.place = place;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-show-lost': ShowLostEvent;
  }
}
