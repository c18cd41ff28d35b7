/** Hands at the table: fingers on the page, keys and pedals, put through {@link OneTouch} and given to the stage. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { OneTouch } from './one-touch.ts';
import type { TableStage } from './stage.ts';

export interface HandsHost {
  /** The stage that is shown; null = none. */
  readonly stage: () => Pick<TableStage, 'on' | 'back' | 'look'> | null;
  /** Milliseconds. */
  readonly now: () => number;
}

const ON_KEYS: ReadonlySet<string> = new Set([' ', 'ArrowRight', 'ArrowDown', 'PageDown']);
const BACK_KEYS: ReadonlySet<string> = new Set(['ArrowLeft', 'ArrowUp', 'PageUp']);

/** Whether the key is for what it was pressed on. */
function isTaken(event: KeyboardEvent): boolean {
  if (event.ctrlKey || event.metaKey || event.altKey) return true;
  return event.composedPath().some((target) => {
    if (!(target instanceof HTMLElement)) return false;
    if (target.matches('input, select, textarea, dialog, [popover]')) return true;
    // A button that has the focus is pressed by the space bar.
    return event.key === ' ' && target.matches('button, a');
  });
}

export class Hands implements ReactiveController {
  readonly #touch = new OneTouch();
  readonly #host: HandsHost;

  constructor(host: ReactiveControllerHost, hands: HandsHost) {
    this.#host = hands;
    host.addController(this);
  }

  hostConnected(): void {
    addEventListener('keydown', this.#onKey);
  }

  hostDisconnected(): void {
    removeEventListener('keydown', this.#onKey);
  }

  readonly onDown = (event: PointerEvent): void => {
    if (event.pointerType === 'mouse' && event.button !== 0) return;
    this.#touch.down(this.#pointOf(event));
  };

  /** On a large button it is a step, elsewhere a swipe looks. */
  readonly onUp = (event: PointerEvent): void => {
    const meaning = this.#touch.up(this.#pointOf(event));
    const stage = this.#host.stage();
    if (meaning === 'swipe-left') stage?.look(1);
    else if (meaning === 'swipe-right') stage?.look(-1);
    else if (meaning === 'step') this.#press(event);
  };

  readonly onCancel = (event: PointerEvent): void => this.#touch.cancel(event.pointerId);

  /** By a screen reader, or by the keyboard on the button itself. */
  readonly onClick = (event: MouseEvent): void => {
    if (this.#touch.click(this.#host.now())) this.#press(event);
  };

  #press(event: Event): void {
    const path = event.composedPath();
    const pressed = (name: string): boolean =>
      path.some((target) => target instanceof HTMLElement && target.matches(`.pads .${name}`));
    if (pressed('on')) this.#host.stage()?.on();
    else if (pressed('back')) this.#host.stage()?.back();
  }

  #pointOf({ pointerId, clientX, clientY }: PointerEvent): {
    readonly id: number;
    readonly x: number;
    readonly y: number;
    readonly at: number;
  } {
    return { id: pointerId, x: clientX, y: clientY, at: this.#host.now() };
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    const stage = this.#host.stage();
    if (stage === null || isTaken(event)) return;
    const [isOn, isBack] = [ON_KEYS.has(event.key), BACK_KEYS.has(event.key)];
    if (!isOn && !isBack) return;
    event.preventDefault();
    // Whoever holds Shift looks: nothing is tied.
    if (event.shiftKey) stage.look(isOn ? 1 : -1);
    else if (this.#touch.key(this.#host.now(), event.repeat)) {
      if (isOn) stage.on();
      else stage.back();
    }
  };
}
