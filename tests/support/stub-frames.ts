/** The browser's frames, sizes and screen, turned by hand. */
import { vi } from 'vitest';

class Query extends EventTarget {}

export class Frames {
  readonly #runs = new Map<number, () => void>();
  readonly #idle = new Map<number, () => void>();
  readonly #resizes = new Set<() => void>();
  readonly #queries = new Map<string, Query>();
  #next = 1;
  #ratio = 1;

  /** What waits for the next frame. */
  get waiting(): number {
    return this.#runs.size;
  }

  /** What waits until the browser rests. */
  get resting(): number {
    return this.#idle.size;
  }

  /** Elements whose size is watched. */
  get watched(): number {
    return this.#resizes.size;
  }

  /** Device px of a CSS px. */
  set ratio(ratio: number) {
    this.#ratio = ratio;
    vi.stubGlobal('devicePixelRatio', ratio);
  }

  next(): void {
    const runs = [...this.#runs.values()];
    this.#runs.clear();
    for (const run of runs) run();
  }

  rest(): void {
    const runs = [...this.#idle.values()];
    this.#idle.clear();
    for (const run of runs) run();
  }

  /** All that is watched has another size. */
  resize(): void {
    for (const told of this.#resizes) told();
  }

  /** The window came to another screen. */
  turnRatio(ratio: number): void {
    const former = this.#queries.get(`(resolution: ${this.#ratio}dppx)`);
    this.ratio = ratio;
    former?.dispatchEvent(new Event('change'));
  }

  /** What a query of the screen says is otherwise now. */
  turn(query: string): void {
    this.#queries.get(query)?.dispatchEvent(new Event('change'));
  }

  stub(): void {
    this.ratio = 1;
    vi.stubGlobal('requestAnimationFrame', (run: () => void) => this.#add(this.#runs, run));
    vi.stubGlobal('cancelAnimationFrame', (frame: number) => this.#runs.delete(frame));
    const requestIdleCallback = (run: () => void): number => this.#add(this.#idle, run);
    const cancelIdleCallback = (idle: number): unknown => this.#idle.delete(idle);
    vi.stubGlobal('requestIdleCallback', requestIdleCallback);
    vi.stubGlobal('cancelIdleCallback', cancelIdleCallback);
    vi.stubGlobal('window', { requestIdleCallback, cancelIdleCallback });
    const resizes = this.#resizes;
    vi.stubGlobal(
      'ResizeObserver',
      class {
        readonly #told: () => void;
        constructor(told: () => void) {
          this.#told = told;
        }
        observe(): void {
          resizes.add(this.#told);
        }
        disconnect(): void {
          resizes.delete(this.#told);
        }
      },
    );
    vi.stubGlobal('matchMedia', (query: string) => {
      const one = this.#queries.get(query) ?? new Query();
      this.#queries.set(query, one);
      return one;
    });
  }

  #add(to: Map<number, () => void>, run: () => void): number {
    this.#next += 1;
    to.set(this.#next, run);
    return this.#next;
  }
}

/** A screen with one device px for each CSS px. `vi.unstubAllGlobals` takes it away. */
export function stubFrames(): Frames {
  const frames = new Frames();
  frames.stub();
  return frames;
}
