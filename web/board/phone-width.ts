/** Whether the page is a phone's, upright or turned: then what has no room on the board stands in the sheet of tools. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';

export class PhoneWidth implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  readonly #query = matchMedia('(max-width: 640px), (max-width: 860px) and (max-height: 500px)');

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  get isPhone(): boolean {
    return this.#query.matches;
  }

  hostConnected(): void {
    this.#query.addEventListener('change', this.#onTurn);
  }

  hostDisconnected(): void {
    this.#query.removeEventListener('change', this.#onTurn);
  }

  readonly #onTurn = (): void => this.#host.requestUpdate();
}
