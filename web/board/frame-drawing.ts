/** When an element's picture is drawn, and on what: shared by the elements that show one canvas. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { onPixelRatio } from './pixel-ratio.ts';

/** Has something done later. @returns takes it back */
export type Schedule = (run: () => void) => () => void;

/** With the next frame. */
const atNextFrame: Schedule = (run) => {
  const frame = requestAnimationFrame(run);
  return () => cancelAnimationFrame(frame);
};

/** When the browser has nothing else to do, or after 300 ms; where it cannot tell, with the next frame. */
export const whenIdle: Schedule = (run) => {
  if (!('requestIdleCallback' in window)) return atNextFrame(run);
  const idle = requestIdleCallback(run, { timeout: 300 });
  return () => cancelIdleCallback(idle);
};

/**
 * Draws when the element was updated, has another size or other pixels, or the page turned dark or light: at most once a frame, and not
 * when it has gone.
 */
export class FrameDrawing implements ReactiveController {
  readonly #host: ReactiveControllerHost & Element;
  readonly #draw: () => void;
  readonly #schedule: Schedule;
  readonly #resize = new ResizeObserver(() => this.later());
  readonly #dark = matchMedia('(prefers-color-scheme: dark)');
  #takeBack: (() => void) | null = null;
  #stopRatio: (() => void) | null = null;

  constructor(host: ReactiveControllerHost & Element, draw: () => void, schedule: Schedule = atNextFrame) {
    this.#host = host;
    this.#draw = draw;
    this.#schedule = schedule;
    host.addController(this);
  }

  hostConnected(): void {
    this.#resize.observe(this.#host);
    this.#dark.addEventListener('change', this.later);
    this.#stopRatio = onPixelRatio(this.later);
  }

  hostDisconnected(): void {
    this.#resize.disconnect();
    this.#dark.removeEventListener('change', this.later);
    this.#stopRatio?.();
    this.#takeBack?.();
    this.#takeBack = null;
  }

  hostUpdated(): void {
    this.later();
  }

  /** For whatever else makes the picture stale, such as scrolling. */
  readonly later = (): void => {
    this.#takeBack ??= this.#schedule(() => {
      this.#takeBack = null;
      this.#draw();
    });
  };
}

/**
 * An empty canvas of a size in CSS px, with as many pixels as the screen has there; one unit of the context is a CSS px.
 * @throws Error where the browser gives no context
 */
export function clearCanvas(
  canvas: HTMLCanvasElement,
  width: number,
  height: number,
): CanvasRenderingContext2D {
  const ratio = devicePixelRatio;
  const [across, down] = [Math.round(width * ratio), Math.round(height * ratio)];
  if (canvas.width !== across) canvas.width = across;
  if (canvas.height !== down) canvas.height = down;
  const context = canvas.getContext('2d');
  if (context === null) throw new Error('this browser gives no canvas to draw on');
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.clearRect(0, 0, across, down);
  context.setTransform(ratio, 0, 0, ratio, 0, 0);
  return context;
}
