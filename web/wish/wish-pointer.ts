/** What the pointer does on a wish: strokes of the tools, moving and zooming the view. */
import { type Cell, pointToCell } from '../../engine/index.ts';
import { type BoardCanvas, Gestures, type PixelPoint, pixelToPoint } from '../board/index.ts';
import type { WishEditor } from './wish-editor.ts';

export interface WishPointerHost {
  readonly editor: WishEditor;
  readonly stage: HTMLElement;
  readonly canvas: BoardCanvas | null;
  /** Whether a finger that is drawn over the wish paints along, else it moves the view. */
  readonly fingerPaints: boolean;
  readonly isSpaceHeld: boolean;
  focusCell(): void;
}

export class WishPointer {
  readonly #host: WishPointerHost;
  readonly #gestures: Gestures;
  /** The cell under the pointer. */
  hover: Cell | null = null;

  constructor(host: WishPointerHost) {
    this.#host = host;
    this.#gestures = new Gestures({
      strokeStart: (at) => this.#start(at),
      strokeMove: (at) => {
        const cell = this.#cellAt(at);
        if (cell !== null) host.editor.drag(cell);
      },
      strokeEnd: (isCopy) => host.editor.release(isCopy),
      strokeTakeBack: () => host.editor.cancel(true),
      pan: (dx, dy) => host.canvas?.pan(dx, dy),
      zoom: (at, factor) => host.canvas?.zoomBy(factor, at),
    });
  }

  #at(event: MouseEvent): PixelPoint {
    const box = this.#host.stage.getBoundingClientRect();
    return { px: event.clientX - box.left, py: event.clientY - box.top };
  }

  #cellAt(at: PixelPoint): Cell | null {
    const { canvas, editor } = this.#host;
    return canvas && pointToCell(editor.stagger, pixelToPoint(canvas.view, at));
  }

  #start(at: PixelPoint): void {
    const { editor } = this.#host;
    const cell = this.#cellAt(at);
    if (cell === null) {
      if (editor.tool === 'select') editor.select(null);
      return;
    }
    editor.moveTo(cell);
    editor.press(cell);
  }

  readonly down = (event: PointerEvent): void => {
    const { stage, editor, fingerPaints, isSpaceHeld } = this.#host;
    if (event.button === 2 || event.target !== event.currentTarget) return;
    stage.setPointerCapture(event.pointerId);
    this.#host.focusCell();
    this.#gestures.down({
      id: event.pointerId,
      at: this.#at(event),
      isTouch: event.pointerType === 'touch',
      isPan: event.button === 1 || isSpaceHeld || editor.tool === 'pan',
      isTapOnly: !fingerPaints && editor.tool !== 'line' && editor.tool !== 'select',
    });
    event.preventDefault();
  };

  readonly move = (event: PointerEvent): void => {
    const points = event.getCoalescedEvents?.() ?? [];
    for (const point of points.length > 0 ? points : [event])
      this.#gestures.move(event.pointerId, this.#at(point));
    this.#setHover(event.pointerType === 'touch' ? null : this.#cellAt(this.#at(event)));
  };

  readonly up = (event: PointerEvent): void => {
    this.#gestures.up(event.pointerId, event.altKey);
  };

  readonly cancel = (): void => this.#gestures.cancel();

  readonly leave = (): void => this.#setHover(null);

  readonly wheel = (event: WheelEvent): void => {
    event.preventDefault();
    const { canvas } = this.#host;
    const px = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 18 : 1;
    const [dx, dy] = [event.deltaX * px, event.deltaY * px];
    if (event.ctrlKey || event.metaKey) canvas?.zoomBy(Math.exp(-dy / 240), this.#at(event));
    else if (event.shiftKey && dx === 0) canvas?.pan(-dy, 0);
    else canvas?.pan(-dx, -dy);
  };

  readonly touch = (event: TouchEvent): void => {
    if (event.target === event.currentTarget) event.preventDefault();
  };

  #setHover(cell: Cell | null): void {
    if (cell?.row === this.hover?.row && cell?.k === this.hover?.k) return;
    this.hover = cell;
    this.#host.canvas?.invalidate('overlay');
  }
}
