/** What the board tells the page. */

export interface Pointed {
  readonly row: number;
  readonly k: number;
  /** The two strings of the knot, by their place at the top. */
  readonly left: number;
  readonly right: number;
}

/** The pointer or the keyboard cursor came onto a knot, or left the board (`at` null). */
export class PointEvent extends Event {
  readonly at: Pointed | null;

  constructor(at: Pointed | null) {
    super('lb-point', { bubbles: true, composed: true });
    this.at = at;
  }
}

/** Something was not done; `why` is null where this person may only look. */
export class RefusedEvent extends Event {
  readonly why: string | null;

  constructor(why: string | null) {
    super('lb-refused', { bubbles: true, composed: true });
    this.why = why;
  }
}

/** A colour was chosen, on the board or in the palette, for the tools to use; null = none any more. */
export class ColourChosenEvent extends Event {
  readonly colour: string | null;

  constructor(colour: string | null) {
    super('lb-colour', { bubbles: true, composed: true });
    this.colour = colour;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-point': PointEvent;
    'lb-colour': ColourChosenEvent;
    'lb-refused': RefusedEvent;
  }
}
