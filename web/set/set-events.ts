/** A colourway was removed here; its name, for the sentence that offers to undo it. */
export class RemovedEvent extends Event {
  readonly name: string;

  constructor(name: string) {
    super('lb-removed', { bubbles: true, composed: true });
    this.name = name;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-removed': RemovedEvent;
  }
}
