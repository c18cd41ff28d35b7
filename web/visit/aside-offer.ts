/**
 * What tabs of this browser put aside of a board, while the board is open: it goes to the server where one may edit; else, and
 * where the server will not take it, it is offered as a file.
 */
import { html, type LitElement, type TemplateResult } from 'lit';
import { roomName } from '../../engine/document/index.ts';
import { bringAside } from '../offline/index.ts';
import { usePart } from '../parts/index.ts';
import {
  BoardLine,
  type BoardSession,
  dropCopies,
  emptyCopy,
  type LeftCopy,
  loadCopy,
  looksAlike,
  readCopy,
  withCopy,
} from '../sync/index.ts';
import { t } from '../text/index.ts';
import { sayTitle } from '../words/index.ts';

export class AsideOffer {
  readonly #host: LitElement;
  readonly #session: BoardSession;
  readonly #stop = new AbortController();
  #names: readonly string[];
  #offers: readonly LeftCopy[] = [];
  /** Names of those that show no board: they can be forgotten, and not be saved as a file. */
  #unshown: readonly string[] = [];

  constructor(host: LitElement, session: BoardSession, names: readonly string[]) {
    this.#host = host;
    this.#session = session;
    this.#names = names;
  }

  /** Does what can be done once the board is connected. */
  async begin(): Promise<void> {
    this.#host.requestUpdate();
    await this.#untilConnected();
    for (const name of this.#names) {
      const isLeft = this.#session.canEdit ? await this.#bring(name) : await this.#compare(name);
      if (this.#stop.signal.aborted) return;
      const board = isLeft ? await readCopy(name) : null;
      if (board !== null) this.#offers = withCopy(this.#offers, name, board);
      else if (isLeft) this.#unshown = [...this.#unshown, name];
      this.#names = this.#names.filter((one) => one !== name);
      this.#host.requestUpdate();
    }
  }

  /** To be called when the board is left. */
  end(): void {
    this.#stop.abort();
  }

  render(): TemplateResult {
    const { canEdit, isConnected } = this.#session;
    return html`${canEdit && !isConnected && this.#names.length > 0 ? html`<p class="notice aside" role="status">${t('aside.waiting')}</p>` : ''}
      ${this.#offers.map((copy) => {
        const title = sayTitle(copy.board);
        return html`<p class="notice aside" role="alert">${t(canEdit ? 'aside.refused' : 'aside.lookOnly', { title })}
          <button class="primary" @click=${() => usePart('save-file', ({ saveBoardFile }) => saveBoardFile(copy.board))}>${t('gone.save')}</button>
          <button @click=${() => this.#forget(copy.names)}>${t('gone.forget')}</button></p>`;
      })}
      ${this.#unshown.length === 0 ? '' : html`<p class="notice aside" role="alert">${t('aside.unshown')} <button @click=${() => this.#forget(this.#unshown)}>${t('gone.forget')}</button></p>`}`;
  }

  /** @returns whether it is still there */
  async #bring(name: string): Promise<boolean> {
    const { boardId, server } = this.#session;
    const lineOf = (doc: Parameters<typeof emptyCopy>[1], onChange: () => void): BoardLine =>
      new BoardLine({ doc, room: roomName(boardId, 'design'), server, canEdit: true, onChange });
    const shelf = { load: loadCopy, empty: emptyCopy };
    return (await bringAside(name, shelf, lineOf, this.#stop.signal)) !== 'brought';
  }

  /** Takes away what the board has already. @returns whether there is more */
  async #compare(name: string): Promise<boolean> {
    const doc = await loadCopy(name);
    const isKnown = this.#session.holds(doc) || (await this.#looksAlike(name));
    const isGone = isKnown && (await emptyCopy(name, doc));
    doc.destroy();
    return !isGone;
  }

  /** A copy of an ended generation shares no history with the board, and may show the same. */
  async #looksAlike(name: string): Promise<boolean> {
    const board = await readCopy(name);
    const present = this.#session.design.snapshot.board;
    return board !== null && looksAlike(board, present);
  }

  async #forget(names: readonly string[]): Promise<void> {
    await dropCopies({ names });
    this.#offers = this.#offers.filter((one) => one.names !== names);
    this.#unshown = this.#unshown.filter((name) => !names.includes(name));
    this.#host.requestUpdate();
  }

  #untilConnected(): Promise<void> {
    return new Promise((resolve) => {
      const { signal } = this.#stop;
      const look = (): void => {
        if (!this.#session.isConnected && !signal.aborted) return;
        stop();
        signal.removeEventListener('abort', look);
        resolve();
      };
      const stop = this.#session.subscribe(look);
      signal.addEventListener('abort', look);
      look();
    });
  }
}
