import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** What an element has subscribed to; all of it ends when the element leaves the page. */
export class Subscriptions implements ReactiveController {
  #stops: readonly (() => void)[] = [];

  constructor(host: ReactiveControllerHost) {
    host.addController(this);
  }

  /** Keeps these instead of those before, which end. */
  keep(...stops: readonly (() => void)[]): void {
    for (const stop of this.#stops) stop();
    this.#stops = stops;
  }

  hostDisconnected(): void {
    this.keep();
  }
}
