/** A colour that is dragged about in the browser's picker: one step of undo, however long it takes. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Design } from '../../engine/document/index.ts';

export class HexStep implements ReactiveController {
  readonly #designOf: () => Pick<Design, 'openStep'>;
  #close: (() => void) | null = null;

  constructor(host: ReactiveControllerHost, designOf: () => Pick<Design, 'openStep'>) {
    this.#designOf = designOf;
    host.addController(this);
  }

  /** Does what the picker says now as part of the step. */
  take(edit: () => void): void {
    this.#close ??= this.#designOf().openStep();
    edit();
  }

  /** The picker was closed, or its field left. */
  readonly end = (): void => {
    this.#close?.();
    this.#close = null;
  };

  hostDisconnected(): void {
    this.end();
  }
}
