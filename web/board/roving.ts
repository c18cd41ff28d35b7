import type { ReactiveElement } from 'lit';
import { fetchMeanwhile, whenSeen } from '../parts/index.ts';

/** For the class of an element with tool bars: each becomes one tab stop, once the element has been seen. */
export function roving(element: typeof ReactiveElement): void {
  element.addInitializer(async (host) => {
    await whenSeen();
    await host.updateComplete;
    await fetchMeanwhile('one-tab-stop', ({ OneTabStop }) => {
      const stop = new OneTabStop(host);
      host.addController(stop);
      stop.begin();
    });
  });
}
