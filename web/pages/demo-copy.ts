/** A demo board that is changed becomes a private copy: made by itself, with everything changed so far in it. */
import { html, type LitElement, type ReactiveController, type TemplateResult } from 'lit';
import { formatBoard } from '../../engine/index.ts';
import type { LbBoard } from '../board/lb-board.ts';
import { deleteBoard } from '../files/whole-board.ts';
import { ApiError, type BoardSession, createBoard } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { sayServerError } from '../words/say-error.ts';
import { goTo } from './go-to.ts';

/** How long nothing must have changed before the copy is made: strokes and slides come in many steps. */
const QUIET_MS = 400;

/** The element that has the focus, in whatever shadow it is. */
function focused(): Element | null {
  let element = document.activeElement;
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
  return element;
}

/** What the maker was at on the demo board, to go on with on the copy. */
interface Arrival {
  readonly boardId: string;
  readonly spot: LbBoard['editor']['spot'];
  readonly isOnBoard: boolean;
}

export class DemoCopy implements ReactiveController {
  readonly #host: LitElement;
  #session: BoardSession | null = null;
  #stop: (() => void) | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #isPressed = false;
  #isMaking = false;
  /** Why the last try failed, in a sentence; empty = it did not. */
  #problem = '';
  #arrival: Arrival | null = null;
  /** The copy that is still to be spoken of. */
  #told = '';

  constructor(host: LitElement) {
    this.#host = host;
    host.addController(this);
  }

  hostConnected(): void {
    addEventListener('beforeunload', this.#onUnload);
    for (const kind of ['pointerdown', 'pointerup', 'pointercancel'])
      addEventListener(kind, this.#onPress, true);
  }

  hostDisconnected(): void {
    this.closed();
    removeEventListener('beforeunload', this.#onUnload);
    for (const kind of ['pointerdown', 'pointerup', 'pointercancel'])
      removeEventListener(kind, this.#onPress, true);
  }

  hostUpdated(): void {
    const arrival = this.#arrival;
    const board = this.#host.renderRoot.querySelector<LbBoard>('lb-board');
    if (arrival === null || board === null || this.#session?.boardId !== arrival.boardId) return;
    this.#arrival = null;
    void board.updateComplete.then(() => {
      board.editor.moveTo(arrival.spot);
      if (arrival.isOnBoard) board.renderRoot.querySelector<HTMLElement>('[role=gridcell]')?.focus();
    });
  }

  /** To be told of each board that opens. */
  opened(session: BoardSession): void {
    this.#session = session;
    if (this.#told !== session.boardId) this.#told = '';
    if (session.isSketch)
      this.#stop = session.design.subscribe(() => {
        if (session.isSketched && this.#problem === '') this.#wait();
      });
  }

  /** To be told when the board is left. */
  closed(): void {
    this.#stop?.();
    this.#stop = null;
    this.#session = null;
    this.#problem = '';
    clearTimeout(this.#timer);
  }

  /** Asks before changes are left behind that are nowhere else. */
  mayLeave(): boolean {
    return this.#session?.isSketched !== true || confirm(t('demo.leave'));
  }

  render(): TemplateResult | '' {
    const session = this.#session;
    if (session === null) return '';
    if (this.#told === session.boardId)
      return html`<p class="notice" role="status">${t('demo.own')} <button @click=${this.#onTold} aria-label=${t('app.close')}>×</button></p>`;
    if (!session.isSketch) return '';
    if (this.#problem !== '')
      return html`<p class="notice" role="alert">${t('demo.failed', { why: this.#problem })} <button class="primary" @click=${this.#onMake}>${t('demo.again')}</button></p>`;
    if (session.isSketched) return html`<p class="notice" role="status">${t('demo.copying')}</p>`;
    return html`<p class="notice">${t('board.demo')} <button class="primary" @click=${this.#onMake}>${t('board.makeCopy')}</button></p>`;
  }

  #wait(): void {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => (this.#isPressed ? this.#wait() : void this.#make()), QUIET_MS);
  }

  async #make(): Promise<void> {
    const session = this.#session;
    if (session === null || this.#isMaking) return;
    this.#isMaking = true;
    this.#problem = '';
    this.#host.requestUpdate();
    const { board } = session.design.snapshot;
    try {
      const { id } = await createBoard({ file: formatBoard(board) });
      // Who has left meanwhile finds the copy among their boards.
      if (session !== this.#session) return;
      const at = focused();
      const isField = at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement;
      // A field hands over what is written in it when it is left.
      if (isField) at.blur();
      if (session.design.snapshot.board === board && !this.#isPressed) this.#go(id, at);
      else {
        await deleteBoard(id);
        if (session === this.#session) this.#wait();
      }
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      if (session === this.#session) this.#problem = sayServerError(error);
    } finally {
      this.#isMaking = false;
      this.#host.requestUpdate();
    }
  }

  #go(id: string, at: Element | null): void {
    const board = this.#host.renderRoot.querySelector<LbBoard>('lb-board');
    if (board !== null)
      this.#arrival = {
        boardId: id,
        spot: board.editor.spot,
        isOnBoard: at?.getRootNode() === board.renderRoot,
      };
    this.#told = id;
    goTo(`/board/${id}`);
  }

  readonly #onMake = (): void => {
    clearTimeout(this.#timer);
    void this.#make();
  };

  readonly #onTold = (): void => {
    this.#told = '';
    this.#host.requestUpdate();
  };

  readonly #onPress = (event: Event): void => {
    this.#isPressed = event.type === 'pointerdown';
  };

  readonly #onUnload = (event: BeforeUnloadEvent): void => {
    if (this.#session?.isSketched === true) event.preventDefault();
  };
}
