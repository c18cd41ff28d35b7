/**
 * What a person may do on the board, and for owners the links given out: made for a role, copied once, ended, taken back.
 * Shown over the page by `show()`.
 */
import { css, html, LitElement, noChange, type TemplateResult } from 'lit';
import { query, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { canManage, canWrite, ROLES, type Role, readRole } from '../../engine/document/index.ts';
import { Consumer } from '../context/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import {
  ApiError,
  addressOfLink,
  endLinkAt,
  fetchLinks,
  type Link,
  makeLink,
  type Standing,
  takeBackLink,
} from '../sync/index.ts';
import { pageHandles } from '../talk/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';
import { dayOf, endOfDay } from './link-days.ts';

function dateOf(time: number): string {
  return new Date(time).toLocaleDateString(undefined, { dateStyle: 'medium' });
}

@spoken
export class LbLinksPanel extends LitElement {
  static override styles = [
    controls,
    panelStyles,
    css`
      :host {
        display: contents;
      }
      dialog {
        width: min(34rem, calc(100vw - 2 * var(--lb-space-3)));
        max-height: calc(100dvh - 2 * var(--lb-space-4));
        padding: var(--lb-space-4);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-page);
        color: var(--lb-text);
      }
      dialog::backdrop {
        background: rgb(0 0 0 / 45%);
      }
      .top {
        display: flex;
        justify-content: space-between;
        align-items: center;
        gap: var(--lb-space-3);
      }
      .body,
      form {
        display: grid;
        gap: var(--lb-space-3);
      }
      .body {
        margin-block-start: var(--lb-space-3);
      }
      .address {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: var(--lb-space-2);
      }
      .links {
        gap: var(--lb-space-2);
      }
      .link {
        display: flex;
        flex-wrap: wrap;
        align-items: end;
        justify-content: space-between;
        gap: var(--lb-space-2);
        padding: var(--lb-space-2) var(--lb-space-3);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius-small);
        background: var(--lb-surface);
      }
      .end {
        display: grid;
        gap: 2px;
      }
      .link > div:first-child {
        flex: 1 1 12rem;
        min-width: 0;
        overflow-wrap: anywhere;
      }
    `,
  ];

  @state() private links: readonly Link[] | null = null;
  @state() private address = '';
  @state() private problem = '';
  @state() private news = '';
  /** Id of the link that is about to be taken back. */
  @state() private asking: string | null = null;
  /** Id of the link whose end is being typed. */
  @state() private inHand: string | null = null;
  @query('dialog') private dialog!: HTMLDialogElement;
  readonly #handles = new Consumer(this, pageHandles);

  get #boardId(): string {
    return this.#handles.value?.session.boardId ?? '';
  }

  /** Null where the server keeps no links; undefined when it could not be asked. */
  get #standing(): Standing | null | undefined {
    return this.#handles.value?.standing;
  }

  async show(): Promise<void> {
    await this.updateComplete;
    this.address = '';
    this.problem = '';
    this.news = '';
    this.asking = null;
    if (!this.dialog.open) this.dialog.showModal();
    if (this.#isOwner) await this.#do(async () => {});
  }

  get #isOwner(): boolean {
    const standing = this.#standing;
    return !!standing && !standing.branchOf && canManage(standing.role);
  }

  /** Whether lessons can be given here by who asks. */
  get #teaches(): boolean {
    const standing = this.#standing;
    return !!standing && !standing.branchOf && canWrite(standing.role, 'lesson');
  }

  protected override render(): TemplateResult {
    return html`<dialog aria-labelledby="heading">
      <div class="top">
        <h2 id="heading">${t('links.heading')}</h2>
        <button @click=${() => this.dialog.close()}>${t('links.close')}</button>
      </div>
      <div class="body">
        ${this.#renderStanding()}
        ${this.#isOwner ? html`${this.#renderForm()}${this.#renderMade()}${this.#renderList()}` : ''}
        ${this.#teaches ? html`<p><a class="button" href="/board/${this.#boardId}/lesson">${t('links.lesson')}</a></p>` : ''}
        <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
      </div>
    </dialog>`;
  }

  #renderStanding(): TemplateResult {
    const standing = this.#standing;
    if (standing === undefined) return html`<p>${t('links.unknown')}</p>`;
    if (standing === null) return html`<p>${t('links.byAddress')}</p>`;
    if (standing.branchOf) return html`<p>${t('links.branch')}</p>`;
    const more = this.#handles.value?.isDemo
      ? 'links.demo'
      : this.#isOwner
        ? 'links.keepOwner'
        : 'links.askOwner';
    return html`<p class="role">
        ${t(`role.${standing.role}.you`)}
        ${standing.endsAt === null ? '' : t('links.untilYou', { date: dateOf(standing.endsAt - 1) })}
      </p>
      <p class="quiet small">${t(more)}</p>`;
  }

  #renderForm(): TemplateResult {
    return html`<form @submit=${this.#onMake}>
      <div class="field">
        <label for="role">${t('links.roleOfLink')}</label>
        <select id="role" name="role">
          ${ROLES.map(
            (role) =>
              html`<option value=${role} ?selected=${role === 'co-maker'}>${t(`role.${role}.may`)}</option>`,
          )}
        </select>
      </div>
      <div class="fields">
        <div class="field">
          <label for="name">${t('links.name')}</label>
          <input id="name" name="name" maxlength="60" autocomplete="off" />
        </div>
        <div class="field">
          <label for="ends">${t('links.ends')}</label>
          <input id="ends" name="ends" type="date" min=${dayOf(Date.now() + 1)} aria-describedby="ends-hint" />
          <span class="quiet small" id="ends-hint">${t('links.endsHint')}</span>
        </div>
      </div>
      <div class="actions"><button class="primary" type="submit">${t('links.make')}</button></div>
    </form>`;
  }

  #renderMade(): TemplateResult {
    return html`<div role="status">
      ${
        this.address === ''
          ? ''
          : html`<div class="card">
            <p>${t('links.made')}</p>
            <div class="address">
              <input readonly aria-label=${t('links.address')} .value=${this.address} @focus=${(event: Event) => (event.target as HTMLInputElement).select()} />
              <button class="primary" @click=${this.#onCopy}>${t('links.copy')}</button>
            </div>
            <p ?hidden=${this.news === ''}>${this.news}</p>
          </div>`
      }
    </div>`;
  }

  #renderList(): TemplateResult {
    const { links } = this;
    return html`<h3>${t('links.list')}</h3>
      ${
        links === null
          ? html`<p class="quiet" role="status">${t('links.loading')}</p>`
          : html`<ul class="links">${links.map((link) => this.#renderLink(link))}</ul>`
      }`;
  }

  #renderLink(link: Link): TemplateResult {
    const name = link.name || t('links.unnamed');
    const isOver = link.revokedAt !== null || (link.endsAt !== null && link.endsAt <= Date.now());
    const end =
      link.revokedAt !== null
        ? t('links.takenBackOn', { date: dateOf(link.revokedAt) })
        : link.endsAt !== null
          ? t(isOver ? 'links.endedOn' : 'links.endsOn', { date: dateOf(link.endsAt - 1) })
          : '';
    return html`<li class="link" data-over=${isOver}>
      <div>
        <b>${name}</b>
        <div class="quiet small">
          ${[t(`role.${link.role}`), t('links.madeOn', { date: dateOf(link.createdAt) }), end].filter(Boolean).join(' · ')}
        </div>
      </div>
      ${isOver ? '' : this.asking === link.id ? this.#renderQuestion(link) : this.#renderActions(link, name)}
    </li>`;
  }

  #renderActions(link: Link, name: string): TemplateResult {
    return html`<label class="end small">
        ${t('links.ends')}
        <input
          type="date"
          aria-label=${t('links.endOf', { name })}
          min=${dayOf(Date.now() + 1)}
          .value=${this.inHand === link.id ? noChange : live(dayOf(link.endsAt))}
          @focus=${() => {
            this.inHand = link.id;
          }}
          @blur=${() => {
            this.inHand = null;
          }}
          @change=${(event: Event) => this.#onEnd(link, (event.target as HTMLInputElement).value)}
        />
      </label>
      <button
        aria-label=${t('links.takeBackOf', { name })}
        @click=${() => {
          this.asking = link.id;
        }}
      >
        ${t('links.takeBack')}
      </button>`;
  }

  #renderQuestion(link: Link): TemplateResult {
    return html`<div role="group" aria-label=${t('links.takeBackSure')}>
      <p>${t('links.takeBackSure')}</p>
      <div class="actions">
        <button class="primary" @click=${() => this.#do(() => takeBackLink(this.#boardId, link.id))}>${t('links.yes')}</button>
        <button
          @click=${() => {
            this.asking = null;
          }}
        >
          ${t('links.no')}
        </button>
      </div>
    </div>`;
  }

  /** Does something with the links, then fetches them anew; says what went wrong. */
  async #do(change: () => Promise<void>): Promise<void> {
    this.problem = '';
    this.asking = null;
    try {
      await change();
      this.links = await fetchLinks(this.#boardId);
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = t('links.failed', { why: sayServerError(error) });
      // What the list shows may not be so: fields go back to what was fetched last.
      this.inHand = null;
      this.links = this.links === null ? null : [...this.links];
      this.requestUpdate();
    }
  }

  readonly #onMake = (event: SubmitEvent): void => {
    event.preventDefault();
    const form = event.target as HTMLFormElement;
    const data = new FormData(form);
    const role: Role | null = readRole(data.get('role'));
    if (role === null) throw new TypeError(`the form names no role: ${String(data.get('role'))}`);
    void this.#do(async () => {
      const { secret } = await makeLink(this.#boardId, {
        role,
        name: String(data.get('name')).trim(),
        endsAt: endOfDay(String(data.get('ends'))),
      });
      this.address = addressOfLink(location.origin, this.#boardId, secret);
      this.news = '';
      form.reset();
    });
  };

  #onEnd(link: Link, day: string): void {
    void this.#do(() => endLinkAt(this.#boardId, link.id, endOfDay(day)));
  }

  readonly #onCopy = async (): Promise<void> => {
    try {
      await navigator.clipboard.writeText(this.address);
      this.news = t('links.copied');
    } catch (error) {
      // No permission, or no secure context: the browser says so in several ways.
      if (!(error instanceof DOMException || error instanceof TypeError)) throw error;
      this.news = t('links.copyByHand');
    }
  };
}
