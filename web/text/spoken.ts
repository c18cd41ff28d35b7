/** What is rendered anew when the page speaks another language: no property tells of it. */
import type { ReactiveController, ReactiveControllerHost, ReactiveElement } from 'lit';

const hosts = new Set<ReactiveControllerHost>();

class LanguageController implements ReactiveController {
  readonly #host: ReactiveControllerHost;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
  }

  hostConnected(): void {
    hosts.add(this.#host);
  }

  hostDisconnected(): void {
    hosts.delete(this.#host);
  }
}

/** For the class of every element that shows text. */
export function spoken(element: typeof ReactiveElement): void {
  element.addInitializer((host) => host.addController(new LanguageController(host)));
}

/** Renders all of them that are on the page. O(those). */
export function redrawTexts(): void {
  for (const host of hosts) host.requestUpdate();
}
