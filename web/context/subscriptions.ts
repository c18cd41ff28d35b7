import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** What an element has subscribed to; all of it ends when the element leaves the page, and out of it there is none. */
export class Subscriptions implements ReactiveController {
  readonly #host: ReactiveControllerHost & Pick<Node, 'isConnected'>;
  #stops: readonly (() => void)[] = [];

  constructor(host: ReactiveControllerHost & Pick<Node, 'isConnected'>) {
    this.#host = host;
    host.addController(this);
  }

  /** Keeps these instead of those before, which end. */
  keep(...stops: readonly (() => void)[]): void {
    for (const stop of this.#stops) stop();
    // An element may be rendered once more after it has left.
    if (this.#host.isConnected) this.#stops = stops;
    else {
      this.#stops = [];
      for (const stop of stops) stop();
    }
  }

  hostDisconnected(): void {
    this.keep();
  }
}
