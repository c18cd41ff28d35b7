/** What an owner may do with a board as a whole: download everything that is kept of it, and delete it for good. */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Subject, Subscriptions } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import { ApiError, countKeychains, forgetKeychains, type PersonHere } from '../sync/index.ts';
import { sayList, spoken, t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';
import { fileName, saveFile } from './save-file.ts';
import { deleteBoard, fetchArchive } from './whole-board.ts';

/** The board was deleted from this page. */
class BoardDeletedEvent extends Event {
  constructor() {
    super('lb-board-deleted', { bubbles: true, composed: true });
  }
}

/** @fires lb-board-deleted */
@spoken
export class LbWholeBoard extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        gap: var(--lb-space-3);
      }
      .actions {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-2);
      }
      form {
        display: grid;
        gap: var(--lb-space-3);
        padding: var(--lb-space-3);
        border: 1px solid var(--lb-warn);
        border-radius: var(--lb-radius);
      }
      label {
        display: grid;
        gap: var(--lb-space-1);
        font-weight: 600;
        overflow-wrap: anywhere;
      }
      input:not([type='checkbox']) {
        width: 100%;
      }
      .keychains {
        grid-template-columns: auto minmax(0, 1fr);
        font-weight: 400;
      }
    `,
  ];

  @property({ attribute: false }) boardId = '';
  /** As the page shows it; what has to be typed. */
  @property({ attribute: false }) boardTitle = '';
  /** Who is at the board. */
  @property({ attribute: false }) people!: Subject<readonly PersonHere[]>;
  /** Names of the others. */
  @state({
    hasChanged: (now: readonly string[], before?: readonly string[]) => String(now) !== String(before),
  })
  private others: readonly string[] = [];
  @state() private isAsking = false;
  @state() private typed = '';
  @state() private isBusy = false;
  @state() private problem = '';
  @state() private done = '';

  readonly #subscriptions = new Subscriptions(this);

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.#watch();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('people')) this.#watch();
  }

  #watch(): void {
    const take = (people: readonly PersonHere[]): void => {
      this.others = people.filter(({ self }) => !self).map(({ presence }) => presence.person.name);
    };
    this.#subscriptions.keep(this.people.subscribe(take));
    take(this.people.value);
  }

  protected override render(): TemplateResult {
    return html`<h3 id="whole">${t('whole.heading')}</h3>
      <p class="quiet small" id="all-hint">${t('whole.allHint')}</p>
      <div class="actions">
        <button id="all" aria-describedby="all-hint" ?disabled=${this.isBusy} @click=${this.#onArchive}>${t('whole.all')}</button>
        ${this.isAsking ? '' : html`<button id="delete" ?disabled=${this.isBusy} @click=${this.#onAsk}>${t('whole.delete')}</button>`}
      </div>
      ${this.isAsking ? this.#renderAsking() : ''}
      <p class="warn" role="alert">${this.problem}</p>
      <p class="good" role="status">${this.done}</p>`;
  }

  #renderAsking(): TemplateResult {
    const isRight = this.typed.trim() === this.boardTitle.trim();
    return html`<form @submit=${this.#onDelete} aria-labelledby="sure">
      <p id="sure"><b>${t('whole.sure')}</b></p>
      <p class="small">${t('whole.sureHint')}</p>
      <p class=${this.others.length === 0 ? 'small' : 'small warn'} role="status">${this.others.length === 0 ? t('whole.nobody') : t('whole.here', { names: sayList(this.others) })}</p>
      ${this.#renderKeychains()}
      <label>${t('whole.type', { title: this.boardTitle })}
        <input autocomplete="off" spellcheck="false" .value=${this.typed} @input=${this.#onType} />
      </label>
      <div class="actions">
        <button class="primary" type="submit" ?disabled=${!isRight || this.isBusy}>${t('whole.yes')}</button>
        <button type="button" @click=${this.#onKeep}>${t('whole.no')}</button>
      </div>
    </form>`;
  }

  /** Rule N86. */
  #renderKeychains(): TemplateResult | '' {
    const count = countKeychains(this.boardId);
    if (count === 0) return '';
    const address = `${location.origin}/board/${this.boardId}/table`;
    return html`<label class="keychains"><input type="checkbox" name="keychains" /> <span>${t('whole.keychains', { count, address })}</span></label>`;
  }

  async #try(act: () => Promise<void>): Promise<void> {
    this.problem = '';
    this.done = '';
    this.isBusy = true;
    try {
      await act();
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = t('whole.failed', { why: sayServerError(error) });
    } finally {
      this.isBusy = false;
    }
  }

  readonly #onArchive = (): Promise<void> =>
    this.#try(async () => {
      const { archive, isWhole } = await fetchArchive(this.boardId);
      saveFile(fileName(this.boardTitle, 'zip'), archive);
      if (isWhole) this.done = t('whole.saved');
      else this.problem = t('whole.savedInPart');
    });

  readonly #onAsk = async (): Promise<void> => {
    this.isAsking = true;
    await this.updateComplete;
    this.renderRoot
      .querySelector<HTMLElement>('form input:not([type=checkbox])')
      ?.focus({ preventScroll: true });
    // Both answers in sight, not only the question.
    this.renderRoot.querySelector('form')?.scrollIntoView({ block: 'nearest' });
  };

  readonly #onKeep = async (): Promise<void> => {
    this.isAsking = false;
    this.typed = '';
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>('#delete')?.focus();
  };

  readonly #onType = (event: Event): void => {
    this.typed = (event.target as HTMLInputElement).value;
  };

  readonly #onDelete = (event: SubmitEvent): void => {
    event.preventDefault();
    if (this.typed.trim() !== this.boardTitle.trim()) return;
    void this.#try(async () => {
      const isToForget =
        this.renderRoot.querySelector<HTMLInputElement>('[name=keychains]')?.checked === true;
      await deleteBoard(this.boardId);
      if (isToForget) forgetKeychains(this.boardId);
      this.dispatchEvent(new BoardDeletedEvent());
    });
  };
}
