/**
 * Keeps back what is told of the board until its picture is on the screen: the maker waits for the picture, not for the panels.
 *
 * The latest always arrives: when the browser has nothing else to do, or after {@link LATEST_MS}.
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

export class AfterFrame implements ReactiveController {
  readonly #tell: () => void;
  #stop: (() => void) | null = null;

  /** @param tell tells what is the latest when it is called */
  constructor(host: ReactiveControllerHost, tell: () => void) {
    this.#tell = tell;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#stop?.();
    this.#stop = null;
  }

  /** There is something to tell, after the next frame. */
  later(): void {
    this.#stop ??= afterNextFrame(() => {
      this.#stop = null;
      this.#tell();
    });
  }
}
