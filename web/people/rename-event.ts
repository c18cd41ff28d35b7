/** Somebody gives themselves a name. */
export class RenameEvent extends Event {
  readonly name: string;

  constructor(name: string) {
    super('lb-rename', { bubbles: true, composed: true });
    this.name = name;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-rename': RenameEvent;
  }
}
