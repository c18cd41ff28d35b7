/**
 * Keeps back what is told of the board until its picture is on the screen: the maker waits for the picture, not for the panels.
 *
 * The latest value always arrives: when the browser has nothing else to do, or after {@link LATEST_MS}.
 */
import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** The panels lag behind a hand that ties without a pause by so many ms at most. */
const LATEST_MS = 120;

/** After the next frame, once the browser rests. @returns takes it back */
function afterNextFrame(run: () => void): () => void {
  let idle = 0;
  const frame = requestAnimationFrame(() => {
    // Safari has no idle callbacks.
    if ('requestIdleCallback' in window) idle = requestIdleCallback(run, { timeout: LATEST_MS });
    else idle = setTimeout(run);
  });
  return () => {
    cancelAnimationFrame(frame);
    if ('cancelIdleCallback' in window) cancelIdleCallback(idle);
    else clearTimeout(idle);
  };
}

export class AfterFrame<T> implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  #of: unknown = null;
  #now: T | null = null;
  #next: T | null = null;
  #stop: (() => void) | null = null;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#stop?.();
    this.#stop = null;
  }

  /** @param of what the value is of: of another thing it comes at once. @returns the value to show now */
  take(of: unknown, value: T): T {
    if (this.#now === null || this.#of !== of) {
      this.#of = of;
      this.#now = value;
    }
    this.#next = value;
    if (value !== this.#now && this.#stop === null)
      this.#stop = afterNextFrame(() => {
        this.#stop = null;
        this.#now = this.#next;
        this.#host.requestUpdate();
      });
    return this.#now;
  }
}
