/** What the pointer does on the board: which knot, peg or string it is on, and what the tools make of its strokes. */
import { type Cell, pointToCell } from '../../engine/index.ts';
import { usePart } from '../parts/index.ts';
import type { Look } from './board-action.ts';
import type { BoardCanvas } from './board-canvas.ts';
import { shownAt } from './board-model.ts';
import type { Editor } from './editor.ts';
import { Gestures } from './gestures.ts';
import type * as PegHand from './peg-hand.ts';
import type { Spot } from './spot.ts';
import { type PixelPoint, pixelToPoint } from './viewport.ts';

/** The board as its pointer sees it. */
export interface PointerHost {
  readonly editor: Editor;
  readonly look: Look;
  readonly stage: HTMLElement;
  readonly canvas: BoardCanvas | null;
  /** While the space bar is down every drag moves the view. */
  readonly isSpaceHeld: boolean;
  /** Whether a finger ties along, else it moves the view. */
  readonly fingerTies: boolean;
  focusCell(): void;
  /** What is under the pointer may be another: that stays where it is. */
  holdStill(): void;
  tellPoint(cell: Cell | null): void;
  tellColour(colour: string | null): void;
  say(text: string): void;
  openMenu(at: PixelPoint): void;
}

/** A press on a peg as far as it has come. */
interface PegWay {
  to: number;
  /** Null while what does it is not there. */
  stroke: PegHand.PegStroke | null;
  /** Whether it was taken back as it ended; null while it goes on. */
  end: boolean | null;
}

/** How long a finger rests before it asks for the menu, in ms: not every browser tells of it. */
const HOLD_MS = 550;

export class BoardPointer {
  readonly #host: PointerHost;
  readonly #gestures = new Gestures({
    strokeStart: (at) => this.#strokeStart(at),
    strokeMove: (at) => this.#strokeMove(at),
    strokeEnd: (isCopy) => {
      this.#endPeg();
      this.#host.editor.release(isCopy);
    },
    strokeTakeBack: () => {
      this.#endPeg(true);
      this.#host.editor.cancel(true);
    },
    pan: (dx, dy) => this.#host.canvas?.pan(dx, dy),
    zoom: (at, factor) => this.#host.canvas?.zoomBy(factor, at),
  });
  /** The knot under the pointer. */
  hover: Cell | null = null;
  /** The knot or peg under the pointer, which stays where it is. */
  hoverSpot: Spot | null = null;
  /** The string under the pointer, where strings can be seen. */
  hoverString: number | null = null;

  /** What hands do with pegs; null while it is not there. */
  #hand: typeof PegHand | null = null;
  /** Of a peg in hand, and of those that are painted. */
  #way: PegWay | null = null;
  #holdTimer = 0;
  /** Where a finger rested long enough for the menu, which opens when it is lifted: a lift closes an open menu. */
  #held: PixelPoint | null = null;

  constructor(host: PointerHost) {
    this.#host = host;
  }

  readonly takeHand = (hand: typeof PegHand): void => {
    this.#hand = hand;
  };

  cancel(): void {
    this.#endHold();
    this.#gestures.cancel();
  }

  #at(event: MouseEvent): PixelPoint {
    const box = this.#host.stage.getBoundingClientRect();
    return { px: event.clientX - box.left, py: event.clientY - box.top };
  }

  #cellAt(at: PixelPoint): Cell | null {
    return (
      this.#host.canvas &&
      pointToCell(this.#host.editor.model.stagger, pixelToPoint(this.#host.canvas.view, at))
    );
  }

  #pegAt(at: PixelPoint): number | null {
    const view = this.#host.canvas?.view;
    if (view === undefined || at.py > view.y - 3 || at.py < view.y - 44) return null;
    const place = this.#placeAt(at);
    return place >= 0 && place < this.#host.editor.model.strings ? place : null;
  }

  #placeAt({ px }: PixelPoint): number {
    const { x = 0, unit = 1 } = this.#host.canvas?.view ?? {};
    return Math.round((px - x) / unit);
  }

  /** The string that hangs or shows at a point; null beside the band. */
  #stringAt(at: PixelPoint, cell: Cell | null): number | null {
    const { model } = this.#host.editor;
    const peg = this.#pegAt(at);
    if (peg !== null) return peg;
    if (cell === null || this.#host.canvas === null) return null;
    if (this.#host.look === 'chart' && shownAt(model, cell) >= 0) return shownAt(model, cell);
    const { x, y } = pixelToPoint(this.#host.canvas.view, at);
    const row = Math.max(0, Math.min(model.rows, Math.floor(y)));
    const place = Math.max(0, Math.min(model.strings - 1, Math.round(x)));
    return model.weave.orderFlat[row * model.strings + place] ?? null;
  }

  #strokeStart(at: PixelPoint): void {
    const { editor } = this.#host;
    const cell = this.#cellAt(at);
    const peg = cell === null ? this.#pegAt(at) : null;
    if (editor.tool === 'trace') {
      const string = this.#stringAt(at, cell);
      if (string !== null) this.#byHand(({ traceString }) => traceString(this.#host, string));
    } else if (peg !== null) this.usePeg(peg, true);
    if (cell === null) {
      if (editor.tool === 'select' && peg === null) editor.clearSelection();
      return;
    }
    editor.moveTo({ on: 'knot', ...cell });
    editor.press(cell);
  }

  #strokeMove(at: PixelPoint): void {
    const way = this.#way;
    if (way !== null) {
      way.to = this.#placeAt(at);
      way.stroke?.drag(way.to);
      return;
    }
    const cell = this.#cellAt(at);
    if (cell !== null) this.#host.editor.drag(cell);
  }

  #byHand(use: (hand: typeof PegHand) => void): void {
    if (this.#hand === null) void usePart('pegs', use);
    else use(this.#hand);
  }

  /** What the present tool does to a peg. @param isHeld whether the pointer goes on from there */
  usePeg(place: number, isHeld = false): void {
    const way: PegWay = { to: place, stroke: null, end: isHeld ? null : false };
    if (isHeld) this.#way = way;
    // What was fetched for it may come after the pointer has gone on, or was lifted.
    this.#byHand(({ PegStroke }) => {
      way.stroke = new PegStroke(this.#host, place);
      way.stroke.drag(way.to);
      if (way.end !== null) way.stroke.end(way.end);
    });
  }

  #endPeg(takesBack = false): void {
    const way = this.#way;
    this.#way = null;
    if (way === null) return;
    way.end = takesBack;
    way.stroke?.end(takesBack);
  }

  readonly down = (event: PointerEvent): void => {
    // A button over the board is not the board: to hold its pointer would swallow its click.
    if (event.button === 2 || event.target !== event.currentTarget) return;
    this.#host.stage.setPointerCapture(event.pointerId);
    this.#host.focusCell();
    const at = this.#at(event);
    const isTouch = event.pointerType === 'touch';
    const { tool } = this.#host.editor;
    this.#endHold();
    if (isTouch && this.#gestures.phase === 'idle')
      this.#holdTimer = window.setTimeout(() => this.#hold(at), HOLD_MS);
    this.#gestures.down({
      id: event.pointerId,
      at,
      isTouch,
      isPan: event.button === 1 || this.#host.isSpaceHeld || tool === 'pan',
      // A line and a block are drawn, a peg is taken hold of; knots are tied along only where the finger is to tie.
      isTapOnly: !this.#host.fingerTies && tool !== 'line' && tool !== 'select' && this.#pegAt(at) === null,
    });
    event.preventDefault();
  };

  readonly move = (event: PointerEvent): void => {
    // A fast hand moves over several knots between two frames; the browser kept the points.
    const points = event.getCoalescedEvents?.() ?? [];
    for (const point of points.length > 0 ? points : [event])
      this.#gestures.move(event.pointerId, this.#at(point));
    if (this.#gestures.phase !== 'waiting') clearTimeout(this.#holdTimer);
    const at = this.#at(event);
    const cell = this.#cellAt(at);
    this.setHover(cell, this.#host.look === 'paths' ? this.#stringAt(at, cell) : null);
    const peg = cell === null ? this.#pegAt(at) : null;
    if (peg !== null) this.hoverSpot = { on: 'peg', place: peg };
    this.#host.stage.style.cursor = peg === null ? '' : 'grab';
    this.#host.holdStill();
  };

  readonly up = (event: PointerEvent): void => {
    const held = this.#held;
    this.#endHold();
    this.#gestures.up(event.pointerId, event.altKey);
    if (held !== null) this.#openMenu(held);
    if (event.pointerType === 'touch') this.setHover(null, null);
  };

  setHover(cell: Cell | null, string: number | null): void {
    if (cell === null) this.hoverSpot = null;
    const before = this.hover;
    if (before?.row === cell?.row && before?.k === cell?.k && string === this.hoverString) return;
    this.hover = cell;
    this.hoverSpot = cell && { on: 'knot', ...cell };
    this.hoverString = string;
    this.#host.tellPoint(cell);
    this.#host.canvas?.invalidate('overlay');
  }

  readonly wheel = (event: WheelEvent): void => {
    event.preventDefault();
    const px = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 18 : 1;
    const [dx, dy] = [event.deltaX * px, event.deltaY * px];
    if (event.ctrlKey || event.metaKey) this.#host.canvas?.zoomBy(Math.exp(-dy / 240), this.#at(event));
    else if (event.shiftKey && dx === 0) this.#host.canvas?.pan(-dy, 0);
    else this.#host.canvas?.pan(-dx, -dy);
  };

  /** What a finger does on the board is no scrolling: the browser would swallow a tap soon after a stroke as the end of its swing. */
  readonly touch = (event: TouchEvent): void => {
    if (event.target === event.currentTarget) event.preventDefault();
  };

  readonly menu = (event: MouseEvent): void => {
    event.preventDefault();
    const at = this.#at(event);
    if ((event as Partial<PointerEvent>).pointerType === 'touch') this.#hold(at);
    else this.#openMenu(at);
  };

  /** A finger rests: its stroke ends, and the knot under it is marked. */
  #hold(at: PixelPoint): void {
    clearTimeout(this.#holdTimer);
    this.#gestures.cancel();
    this.#held = at;
    const cell = this.#cellAt(at);
    if (cell !== null) this.setHover(cell, null);
  }

  #endHold(): void {
    clearTimeout(this.#holdTimer);
    this.#held = null;
  }

  #openMenu(at: PixelPoint): void {
    this.#gestures.cancel();
    const cell = this.#cellAt(at);
    const { editor } = this.#host;
    const peg = this.#pegAt(at);
    if (cell !== null) editor.moveTo({ on: 'knot', ...cell });
    else if (peg !== null) editor.moveTo({ on: 'peg', place: peg });
    editor.leaveSelection();
    this.#host.openMenu(at);
  }
}
