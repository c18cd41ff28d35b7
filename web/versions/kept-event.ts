/** A version was kept by something else than the list of them. */
export class KeptEvent extends Event {
  constructor() {
    super('lb-kept', { bubbles: true, composed: true });
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-kept': KeptEvent;
  }
}
