/** Drawing over the work with a pointer: what a hand does on the screen becomes places of the board, and goes to everybody in the lesson. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Spot, TableStage } from '../table/index.ts';
import { mirrorSpot, Pen } from './pen.ts';

export interface InkHost {
  readonly stage: () => Pick<TableStage, 'spotAt'> | null;
  /** Strings of the board where it is seen in the mirror; null where it is not. */
  readonly mirrored: () => number | null;
  readonly point: (at: Spot | null) => void;
  readonly draw: (stroke: readonly number[]) => void;
  /** Milliseconds. */
  readonly now: () => number;
}

export class TeacherInk implements ReactiveController {
  readonly #host: InkHost;
  readonly #pen: Pen;

  constructor(host: ReactiveControllerHost, ink: InkHost) {
    this.#host = ink;
    this.#pen = new Pen(ink.draw);
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#pen.up();
  }

  readonly onDown = (event: PointerEvent): void => {
    const at = this.#spotOf(event);
    if (at === null || (event.pointerType === 'mouse' && event.button !== 0)) return;
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    this.#pen.down(at, this.#host.now());
  };

  readonly onMove = (event: PointerEvent): void => {
    const at = this.#spotOf(event);
    this.#host.point(at);
    this.#pen.move(at, this.#host.now());
  };

  readonly onUp = (): void => this.#pen.up();

  readonly onLeave = (): void => this.#host.point(null);

  #spotOf({ clientX, clientY }: PointerEvent): Spot | null {
    const at = this.#host.stage()?.spotAt(clientX, clientY) ?? null;
    const strings = this.#host.mirrored();
    return at === null || strings === null ? at : mirrorSpot(at, strings);
  }
}
