/**
 * Rows of a list that are put in another order by dragging their grip, by mouse or finger; each has its id in `data-id`.
 *
 * Invariant: while one is dragged the others keep their order, whoever adds and removes some meanwhile.
 */
import type { ReactiveController, ReactiveControllerHost } from 'lit';

export class RowDrag implements ReactiveController {
  readonly #host: ReactiveControllerHost & { readonly renderRoot: ParentNode };
  readonly #onDrop: (id: string, to: number) => void;
  #stop: (() => void) | null = null;
  /** Id of the row in hand. */
  held: string | null = null;
  #to = 0;

  /** @param onDrop the row was let go of, at this index among all */
  constructor(
    host: ReactiveControllerHost & { readonly renderRoot: ParentNode },
    onDrop: (id: string, to: number) => void,
  ) {
    this.#host = host;
    this.#onDrop = onDrop;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#end();
  }

  /**
   * The ids as they are to be seen while one of them is in hand; null while none is. To be shown by style alone: an element that is put
   * elsewhere loses the finger that holds it.
   */
  orderOf(ids: readonly string[]): readonly string[] | null {
    const { held } = this;
    if (held === null || !ids.includes(held)) return null;
    return ids.filter((id) => id !== held).toSpliced(this.#to, 0, held);
  }

  readonly down = (event: PointerEvent): void => {
    const grip = event.currentTarget as HTMLElement;
    const row = grip.closest<HTMLElement>('[data-id]');
    if (event.button !== 0 || row?.dataset.id === undefined) return;
    this.#end();
    this.held = row.dataset.id;
    this.#to = this.#rows().indexOf(row);
    const began = this.#to;
    const move = ({ clientY, pointerId }: PointerEvent): void => {
      if (pointerId === event.pointerId) this.#follow(clientY);
    };
    const up = ({ pointerId, type }: PointerEvent): void => {
      if (pointerId !== event.pointerId) return;
      const { held } = this;
      const to = this.#to;
      this.#end();
      if (type === 'pointerup' && held !== null && to !== began) this.#onDrop(held, to);
    };
    const key = ({ key }: KeyboardEvent): void => {
      if (key === 'Escape') this.#end();
    };
    // On the window: the pointer leaves the grip.
    addEventListener('pointermove', move);
    addEventListener('pointerup', up);
    addEventListener('pointercancel', up);
    addEventListener('keydown', key);
    this.#stop = () => {
      removeEventListener('pointermove', move);
      removeEventListener('pointerup', up);
      removeEventListener('pointercancel', up);
      removeEventListener('keydown', key);
    };
    this.#host.requestUpdate();
  };

  #rows(): readonly HTMLElement[] {
    return [...this.#host.renderRoot.querySelectorAll<HTMLElement>('[data-id]')];
  }

  /** The row in hand stands below all whose middle is above the pointer. */
  #follow(y: number): void {
    const others = this.#rows().filter(({ dataset }) => dataset.id !== this.held);
    const to = others.filter((row) => {
      const { top, height } = row.getBoundingClientRect();
      return top + height / 2 < y;
    }).length;
    if (to === this.#to) return;
    this.#to = to;
    this.#host.requestUpdate();
  }

  #end(): void {
    this.#stop?.();
    this.#stop = null;
    if (this.held === null) return;
    this.held = null;
    this.#host.requestUpdate();
  }
}
