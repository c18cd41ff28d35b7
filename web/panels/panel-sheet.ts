/**
 * The panels as a sheet over the board, on a phone: half, full or closed, by dragging its grip, by key, and by the browser's way back.
 *
 * Invariant: while it is open there is an entry of the browser's history for it, which goes when it is closed.
 */
import { html, type LitElement, type ReactiveController, type TemplateResult } from 'lit';
import type { SheetHeight } from '../board/index.ts';
import type { Subject } from '../context/index.ts';
import { t } from '../text/index.ts';

const HEIGHTS: readonly SheetHeight[] = ['closed', 'half', 'full'];
/** Further than this is no press of the grip, in px. */
const DRAG_PX = 6;

export class PanelSheet implements ReactiveController {
  readonly #host: LitElement;
  readonly #narrow = matchMedia('(max-width: 860px)');
  #sheet: Subject<SheetHeight> | null = null;
  #stop: () => void = () => {};
  /** Where a drag began; null without one. */
  #from: { readonly y: number; readonly height: number } | null = null;
  #hasDragged = false;

  constructor(host: LitElement) {
    this.#host = host;
    host.addController(this);
  }

  hostConnected(): void {
    addEventListener('popstate', this.#onBack);
    if (this.#sheet !== null) this.of(this.#sheet);
  }

  hostDisconnected(): void {
    removeEventListener('popstate', this.#onBack);
    this.#stop();
  }

  /** Follows the height of this board's sheet. */
  of(sheet: Subject<SheetHeight>): void {
    this.#stop();
    this.#sheet = sheet;
    this.#host.setAttribute('sheet', sheet.value);
    this.#stop = sheet.subscribe((height, before) => {
      this.#host.setAttribute('sheet', height);
      this.#host.requestUpdate();
      if (!this.#narrow.matches) return;
      if (before === 'closed') {
        history.pushState({ ...history.state, isSheet: true }, '');
        void this.#host.updateComplete.then(() => this.#focus());
      } else if (height === 'closed' && history.state?.isSheet === true) history.back();
    });
  }

  render(): TemplateResult {
    const isFull = this.#sheet?.value === 'full';
    return html`<div class="handle" @keydown=${this.#onKey}>
      <button class="grip" aria-label=${t('panels.sheet')} aria-expanded=${isFull} @click=${this.#onPress} @pointerdown=${this.#onDown} @pointermove=${this.#onMove} @pointerup=${this.#onUp} @pointercancel=${this.#onUp}></button>
      <button class="close" aria-label=${t('app.close')} @click=${() => this.#sheet?.set('closed')}>×</button>
    </div>`;
  }

  #focus(): void {
    this.#host.renderRoot.querySelector<HTMLElement>('[role=tab][aria-selected=true]')?.focus();
  }

  readonly #onBack = (): void => {
    if (history.state?.isSheet !== true) this.#sheet?.set('closed');
  };

  readonly #onPress = (): void => {
    if (!this.#hasDragged) this.#sheet?.set(this.#sheet.value === 'full' ? 'half' : 'full');
  };

  readonly #onKey = ({ key }: KeyboardEvent): void => {
    const sheet = this.#sheet;
    if (sheet === null) return;
    const by = { ArrowUp: 1, ArrowDown: -1, Escape: -2 }[key];
    if (by === undefined) return;
    sheet.set(HEIGHTS[Math.max(0, Math.min(2, HEIGHTS.indexOf(sheet.value) + by))]!);
  };

  readonly #onDown = (event: PointerEvent): void => {
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    this.#from = { y: event.clientY, height: this.#host.offsetHeight };
    this.#hasDragged = false;
  };

  readonly #onMove = ({ clientY }: PointerEvent): void => {
    const from = this.#from;
    if (from === null || (!this.#hasDragged && Math.abs(clientY - from.y) < DRAG_PX)) return;
    this.#hasDragged = true;
    // It lies over the board while it is drawn: the board changes its height once.
    Object.assign(this.#host.style, { position: 'absolute', inset: 'auto 0 0', zIndex: '5' });
    this.#host.style.height = `${Math.max(0, from.height + from.y - clientY)}px`;
  };

  readonly #onUp = (): void => {
    const from = this.#from;
    this.#from = null;
    if (from === null || !this.#hasDragged) return;
    const room = this.#host.offsetParent?.clientHeight ?? innerHeight;
    const part = this.#host.offsetHeight / room;
    this.#host.removeAttribute('style');
    this.#sheet?.set(part < 0.25 ? 'closed' : part < 0.75 ? 'half' : 'full');
  };
}
