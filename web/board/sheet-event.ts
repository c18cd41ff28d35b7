/** The panels are wanted, or not any more, where they are a sheet over the board. */
export class SheetEvent extends Event {
  constructor() {
    super('lb-sheet', { bubbles: true, composed: true });
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-sheet': SheetEvent;
  }
}
