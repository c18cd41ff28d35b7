/**
 * A demo board that is changed becomes a private copy: made by itself, with everything changed so far in it. Where the server cannot make
 * it, what was changed is kept in the browser and offered when the demo board is opened again.
 */
import { html, type LitElement, type ReactiveController, type TemplateResult } from 'lit';
import { formatBoard } from '../../engine/index.ts';
import type { LbBoard } from '../board/index.ts';
import { deleteBoard } from '../files/index.ts';
import { ApiError, type BoardSession, createBoard, newId } from '../sync/index.ts';
import { t } from '../text/index.ts';
import { goTo } from '../visit/index.ts';
import { sayServerError } from '../words/index.ts';
import { type KeptSketch, SketchShelf } from './sketch-shelf.ts';

/** How long nothing must have changed before the copy is made: strokes and slides come in many steps. */
const QUIET_MS = 400;

/** What the maker was at on the demo board, to go on with on the copy. */
interface Arrival {
  readonly boardId: string;
  readonly spot: LbBoard['editor']['spot'];
  readonly isOnBoard: boolean;
}

export class DemoCopy implements ReactiveController {
  readonly #host: LitElement;
  readonly #boardNow: () => LbBoard | null;
  #session: BoardSession | null = null;
  #stop: (() => void) | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #isPressed = false;
  #isMaking = false;
  /** The field that the keyboard is in, in whatever element; null = in none. */
  #field: HTMLInputElement | HTMLTextAreaElement | null = null;
  readonly #shelf = new SketchShelf(localStorage);
  /** Whether what was changed is in the browser too. */
  #isKept = false;
  /** Why the last try failed, in a sentence; empty = it did not. */
  #problem = '';
  #arrival: Arrival | null = null;
  /** The copy that is still to be spoken of. */
  #told = '';
  /** By which what is changed now is kept apart from what was kept before. */
  #visit = '';
  /** Whether it was read that this is a demo board, and closed. */
  #isRead = false;
  /** Whether what was changed has become a board. */
  #isGone = false;

  /** @param boardNow the board on the page; null while there is none */
  constructor(host: LitElement, boardNow: () => LbBoard | null) {
    this.#host = host;
    this.#boardNow = boardNow;
    host.addController(this);
  }

  hostConnected(): void {
    addEventListener('beforeunload', this.#onUnload);
    addEventListener('pagehide', this.#onHide);
    for (const kind of ['pointerdown', 'pointerup', 'pointercancel'])
      addEventListener(kind, this.#onPress, true);
    for (const kind of ['focusin', 'focusout'] as const) addEventListener(kind, this.#onFocus);
  }

  hostDisconnected(): void {
    this.closed();
    removeEventListener('beforeunload', this.#onUnload);
    removeEventListener('pagehide', this.#onHide);
    for (const kind of ['pointerdown', 'pointerup', 'pointercancel'])
      removeEventListener(kind, this.#onPress, true);
    for (const kind of ['focusin', 'focusout'] as const) removeEventListener(kind, this.#onFocus);
  }

  hostUpdated(): void {
    const arrival = this.#arrival;
    const board = this.#boardNow();
    if (arrival === null || board === null || this.#session?.boardId !== arrival.boardId) return;
    this.#arrival = null;
    void board.updateComplete.then(() => {
      board.editor.moveTo(arrival.spot);
      if (arrival.isOnBoard) board.focusCell();
    });
  }

  /** To be told of each board that opens. */
  opened(session: BoardSession): void {
    this.#session = session;
    this.#isGone = false;
    this.#isRead = false;
    this.#isKept = false;
    this.#visit = newId();
    if (this.#told !== session.boardId) this.#told = '';
    if (session.isSketch)
      this.#stop = session.design.subscribe(() => {
        this.#isKept = false;
        if (session.isSketched && this.#problem === '') this.#wait();
      });
  }

  /** To be told when the board is left. */
  closed(): void {
    this.#keep();
    this.#stop?.();
    this.#stop = null;
    this.#session = null;
    this.#problem = '';
    clearTimeout(this.#timer);
  }

  /** Keeps what was changed; where the browser has no room for it, asks before it is left behind. */
  mayLeave(): boolean {
    return this.#session?.isSketched !== true || this.#keep() || confirm(t('demo.leave'));
  }

  render(): TemplateResult | '' {
    const session = this.#session;
    if (session === null) return '';
    if (this.#told === session.boardId)
      return html`<p class="notice" role="status">${t('demo.own')} <button @click=${this.#onTold} aria-label=${t('app.close')}>×</button></p>`;
    if (!session.isSketch) return '';
    if (this.#problem !== '')
      return html`<p class="notice" role="alert">${t('demo.failed', { why: this.#problem })} ${t(this.#isKept || !session.isSketched ? 'demo.isKept' : 'demo.isHere')} <button class="primary" @click=${this.#onMake}>${t('demo.again')}</button></p>`;
    if (session.isSketched || this.#isMaking)
      return html`<p class="notice" role="status">${t('demo.copying')}</p>`;
    const kept = this.#shelf.find(session.boardId);
    if (kept !== null)
      return html`<p class="notice" role="status">${t('demo.kept')}
        <button class="primary" @click=${() => this.#makeKept(session.boardId, kept)}>${t('demo.makeKept')}</button>
        <button @click=${() => this.#forget(session.boardId, kept)}>${t('demo.forget')}</button></p>`;
    if (this.#isRead) return '';
    return html`<p class="notice">${t('board.demo')} <button class="primary" @click=${this.#onMake}>${t('board.makeCopy')}</button> <button @click=${this.#onRead} aria-label=${t('app.close')}>×</button></p>`;
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
    const visit = this.#visit;
    try {
      const { id } = await createBoard({ file: formatBoard(board) });
      this.#shelf.forget(session.boardId, visit, board);
      // Who has left meanwhile finds the copy among their boards.
      if (session !== this.#session) return;
      const isOnBoard = this.#isOnBoard();
      // A field hands over what is written in it when it is left.
      this.#field?.blur();
      if (session.design.snapshot.board === board && !this.#isPressed) {
        this.#isGone = true;
        // What was kept of it before is in the copy too.
        this.#shelf.forget(session.boardId, visit);
        this.#go(id, isOnBoard);
      } else {
        await deleteBoard(id);
        if (session === this.#session) this.#wait();
      }
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      if (session === this.#session) {
        this.#problem = sayServerError(error);
        this.#keep();
      }
    } finally {
      this.#isMaking = false;
      this.#host.requestUpdate();
    }
  }

  /** Makes a board of what was kept at an earlier visit. */
  async #makeKept(boardId: string, { visit, file }: KeptSketch): Promise<void> {
    if (this.#isMaking) return;
    this.#isMaking = true;
    this.#host.requestUpdate();
    try {
      const { id } = await createBoard({ file: JSON.parse(file) });
      this.#shelf.forget(boardId, visit);
      if (this.#session?.boardId === boardId) this.#go(id, this.#isOnBoard());
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.#problem = sayServerError(error);
    } finally {
      this.#isMaking = false;
      this.#host.requestUpdate();
    }
  }

  #forget(boardId: string, { visit }: KeptSketch): void {
    this.#shelf.forget(boardId, visit);
    this.#host.requestUpdate();
  }

  /** @returns whether what was changed is in the browser, or nothing was */
  #keep(): boolean {
    const session = this.#session;
    if (session?.isSketched !== true || this.#isGone) return true;
    this.#isKept ||= this.#shelf.keep(session.boardId, this.#visit, session.design.snapshot.board);
    return this.#isKept;
  }

  #isOnBoard(): boolean {
    return this.#boardNow()?.matches(':focus-within') === true;
  }

  #go(id: string, isOnBoard: boolean): void {
    const board = this.#boardNow();
    if (board !== null)
      this.#arrival = {
        boardId: id,
        spot: board.editor.spot,
        isOnBoard,
      };
    this.#told = id;
    goTo(`/board/${id}`);
  }

  readonly #onMake = (): void => {
    clearTimeout(this.#timer);
    const session = this.#session;
    const kept = session?.isSketched === false ? this.#shelf.find(session.boardId) : null;
    this.#problem = '';
    if (session !== null && kept !== null) void this.#makeKept(session.boardId, kept);
    else void this.#make();
  };

  readonly #onRead = (): void => {
    this.#isRead = true;
    this.#host.requestUpdate();
  };

  readonly #onTold = (): void => {
    this.#told = '';
    this.#host.requestUpdate();
  };

  readonly #onPress = (event: Event): void => {
    this.#isPressed = event.type === 'pointerdown';
  };

  readonly #onFocus = (event: FocusEvent): void => {
    const [at] = event.type === 'focusin' ? event.composedPath() : [];
    this.#field = at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement ? at : null;
  };

  readonly #onUnload = (event: BeforeUnloadEvent): void => {
    if (!this.#keep()) event.preventDefault();
  };

  readonly #onHide = (): void => void this.#keep();
}
