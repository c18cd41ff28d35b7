/** What is rendered anew when the page speaks another language: no property tells of it. */
import type { ReactiveController, ReactiveControllerHost, ReactiveElement } from 'lit';

const hosts = new Set<ReactiveControllerHost>();
/** How often another language was chosen. */
let chosen = 0;

class LanguageController implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  /** As of when it was on the page last. */
  #chosen = chosen;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
  }

  hostConnected(): void {
    hosts.add(this.#host);
    if (this.#chosen !== chosen) this.#host.requestUpdate();
  }

  hostDisconnected(): void {
    hosts.delete(this.#host);
    this.#chosen = chosen;
  }
}

/** For the class of every element that shows text. */
export function spoken(element: typeof ReactiveElement): void {
  element.addInitializer((host) => host.addController(new LanguageController(host)));
}

/** Renders all of them that are on the page, and the others when they come back. O(those on it). */
export function redrawTexts(): void {
  chosen += 1;
  for (const host of hosts) host.requestUpdate();
}
