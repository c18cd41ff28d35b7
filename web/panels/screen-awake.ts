/** Keeps the screen on while an element wants it: both hands are busy when tying. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';

export class ScreenAwake implements ReactiveController {
  /** Whether this browser can keep the screen on at all. */
  static get isPossible(): boolean {
    return 'wakeLock' in navigator;
  }

  /** Whether the browser refused, as it does when the battery is low. */
  hasFailed = false;
  #isWanted = false;
  #lock: WakeLockSentinel | null = null;
  readonly #host: ReactiveControllerHost;

  constructor(host: ReactiveControllerHost) {
    this.#host = host;
    host.addController(this);
  }

  hostConnected(): void {
    document.addEventListener('visibilitychange', this.#onVisible);
  }

  hostDisconnected(): void {
    document.removeEventListener('visibilitychange', this.#onVisible);
    this.want(false);
  }

  want(isWanted: boolean): void {
    this.#isWanted = isWanted;
    this.hasFailed = false;
    if (isWanted) void this.#take();
    else this.#release();
    this.#host.requestUpdate();
  }

  get isWanted(): boolean {
    return this.#isWanted;
  }

  /** The browser takes the lock back when the page is hidden. */
  readonly #onVisible = (): void => {
    if (this.#isWanted && document.visibilityState === 'visible') void this.#take();
  };

  async #take(): Promise<void> {
    try {
      const lock = await navigator.wakeLock.request('screen');
      this.#release();
      if (this.#isWanted) this.#lock = lock;
      else void lock.release();
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      this.hasFailed = true;
      this.#isWanted = false;
      this.#host.requestUpdate();
    }
  }

  #release(): void {
    void this.#lock?.release();
    this.#lock = null;
  }
}
