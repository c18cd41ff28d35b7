/** A colourway was removed here; its name, for the sentence that offers to undo it. */
export class RemovedEvent extends Event {
  readonly name: string;

  constructor(name: string) {
    super('lb-removed', { bubbles: true, composed: true });
    this.name = name;
  }
}

/** How many pieces are to be made in a colourway; null = in the board's own colours. */
export class PiecesEvent extends Event {
  readonly colourway: string | null;
  readonly pieces: number;

  constructor(colourway: string | null, pieces: number) {
    super('lb-pieces', { bubbles: true, composed: true });
    this.colourway = colourway;
    this.pieces = pieces;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-pieces': PiecesEvent;
    'lb-removed': RemovedEvent;
  }
}
