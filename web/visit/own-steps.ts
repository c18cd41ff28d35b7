/**
 * A person's own steps on the board that is open: kept in this browser, and what is said when others stood in the way of an undo.
 */
import { html, type LitElement, type TemplateResult } from 'lit';
import { LATER_COMMANDS, UNDO_KIT, type UndoNews } from '../../engine/document/index.ts';
import type { Cell } from '../../engine/index.ts';
import { type BoardSession, StepShelf } from '../sync/index.ts';
import { currentLanguage, t } from '../text/index.ts';

export class OwnSteps {
  readonly #host: LitElement;
  readonly #session: BoardSession;
  readonly #onShow: ((knots: readonly Cell[]) => void) | undefined;
  readonly #stops: readonly (() => void)[];
  #news: UndoNews | null = null;

  /** @param onShow shows knots on the board; without it there is none to show them on */
  constructor(host: LitElement, session: BoardSession, onShow?: (knots: readonly Cell[]) => void) {
    this.#host = host;
    this.#session = session;
    this.#onShow = onShow;
    this.#stops = [
      session.design.onUndoNews((news) => this.#tell(news)),
      session.design.subscribe((_snapshot, { local }) => {
        // What was said is over with whatever is done next. What is to be said of that comes after it.
        if (local) this.#tell(null);
      }),
    ];
    session.design.giveUndo(UNDO_KIT);
    session.design.giveCommands(LATER_COMMANDS);
  }

  /** Goes on with what this browser keeps of an earlier visit. */
  async begin(now: () => number = Date.now): Promise<void> {
    const { boardId, design, personId, ended, keepsEdits } = this.#session;
    if (!keepsEdits) return;
    const shelf = await StepShelf.open({ boardId, personId, client: design.doc.clientID, now });
    if (shelf === null) return;
    if (ended.aborted) {
      shelf.close();
      return;
    }
    const session = this.#session;
    shelf.onDropped = design.recallSteps(
      shelf.steps,
      shelf,
      (client) => shelf.clients.has(client) || session.personOf(client)?.id === personId,
    );
    ended.addEventListener('abort', () => {
      if (GONE.has(session.closeReason ?? '')) shelf.forgetBoard();
      shelf.close();
    });
    this.#host.requestUpdate();
  }

  /** To be called when the board is left. */
  end(): void {
    for (const stop of this.#stops) stop();
  }

  render(): TemplateResult | '' {
    const news = this.#news;
    if (news === null) return '';
    const cells = news.kept.flatMap(
      ({ address }) => (address && this.#session.design.placeOf(address)) ?? [],
    );
    const show = this.#onShow;
    return html`<p class="notice undone" role="status">${this.#sentence(news)}
      ${cells.length > 0 && show !== undefined ? html`<button class="show" @click=${() => show(cells)}>${t('undo.show')}</button>` : ''}
      <button @click=${() => this.#tell(null)} aria-label=${t('app.close')}>×</button></p>`;
  }

  #tell(news: UndoNews | null): void {
    if (this.#news === news) return;
    this.#news = news;
    this.#host.requestUpdate();
  }

  #sentence({ way, isTaken, kept }: UndoNews): string {
    const names = new Set(
      kept.map(({ client }) => (client === null ? null : this.#session.personOf(client))?.name ?? ''),
    );
    // Who cannot be named comes last.
    const isSomebody = names.delete('');
    const people = [...names, ...(isSomebody || names.size === 0 ? [t('undo.somebody')] : [])];
    const who = new Intl.ListFormat(currentLanguage()).format(people);
    const knots = kept.filter(({ address }) => address !== null).length;
    if (!isTaken)
      return t(way === 'undo' ? 'undo.nothing' : 'undo.nothingAgain', { who, people: people.length });
    if (knots === kept.length) return t('undo.knots', { who, people: people.length, count: knots });
    return t('undo.rest', { who, people: people.length });
  }
}

/** The line is closed for these when the board is not one's own any more. */
const GONE: ReadonlySet<string> = new Set(['deleted', 'unknownBoard', 'revoked']);
