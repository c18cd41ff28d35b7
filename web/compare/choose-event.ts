/** Somebody chose or left differences in a comparison. */
export class ChooseEvent extends Event {
  /** Keys of the changes. */
  readonly keys: readonly string[];
  readonly isChosen: boolean;

  constructor(keys: readonly string[], isChosen: boolean) {
    super('lb-choose', { bubbles: true, composed: true });
    this.keys = keys;
    this.isChosen = isChosen;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-choose': ChooseEvent;
  }
}
