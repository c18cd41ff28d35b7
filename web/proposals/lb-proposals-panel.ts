/**
 * The proposals of a board: how to make one, those that are open, those that were answered.
 *
 * @fires lb-review Somebody wants to see what differs in one.
 */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { canPropose } from '../../engine/document/index.ts';
import { Consumer } from '../context/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { makeProposal, type Proposal, readPerson, type Standing } from '../sync/index.ts';
import { type PageHandles, pageHandles } from '../talk/index.ts';
import { currentLanguage, spoken, t } from '../text/index.ts';
import { ProposalList } from './proposal-list.ts';
import { isLive, sayMaker, sayProblem, sayState } from './proposal-words.ts';
import { ReviewEvent } from './review-event.ts';

@spoken
export class LbProposalsPanel extends LitElement {
  static override styles = [
    controls,
    panelStyles,
    css`
      form {
        display: grid;
        gap: var(--lb-space-2);
      }
      .one {
        display: grid;
        gap: var(--lb-space-1);
        padding: var(--lb-space-3);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        overflow-wrap: anywhere;
      }
      .one[data-waits='true'] {
        border-inline-start: 4px solid var(--lb-accent);
      }
      blockquote {
        margin: 0;
        padding-inline-start: var(--lb-space-3);
        border-inline-start: 3px solid var(--lb-line-strong);
        white-space: pre-wrap;
      }
    `,
  ];

  readonly #handles = new Consumer(this, pageHandles, (handles) => this.#onHandles(handles));
  @state() private problem = '';
  @state() private isMaking = false;
  readonly #list = new ProposalList(this);

  get #standing(): Standing | null | undefined {
    return this.#handles.value?.standing;
  }

  get #boardId(): string {
    return this.#handles.value?.session.boardId ?? '';
  }

  #onHandles(handles: PageHandles | null): void {
    if (handles === null) this.#list.of(null, null);
    else this.#list.of(handles.standing?.branchOf ?? handles.session.boardId, handles.session);
  }

  protected override render(): TemplateResult {
    const all = this.#list.proposals ?? [];
    const live = all.filter(isLive).reverse();
    const closed = all.filter((one) => !isLive(one)).sort((a, b) => (b.closedAt ?? 0) - (a.closedAt ?? 0));
    return html`
      <h2>${t('prop.heading')}</h2>
      <p class="quiet">${t('prop.purpose')}</p>
      ${this.#renderForm()}
      <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
      ${this.#list.isAway ? html`<p class="warn">${t('prop.needsServer')}</p>` : ''}
      ${live.length === 0 && closed.length === 0 ? html`<p class="quiet">${t('prop.empty')}</p>` : ''}
      ${live.length === 0 ? '' : html`<h3>${t('prop.list')}</h3><ul>${live.map((one) => this.#renderOne(one))}</ul>`}
      ${closed.length === 0 ? '' : html`<h3>${t('prop.closed')}</h3><ul>${closed.map((one) => this.#renderOne(one))}</ul>`}
    `;
  }

  #renderForm(): TemplateResult | '' {
    const standing = this.#standing;
    if (standing === undefined || standing === null) return html`<p>${t('prop.needsServer')}</p>`;
    if (standing.branchOf) return '';
    if (!canPropose(standing.role)) return html`<p>${t('prop.mayNot')}</p>`;
    return html`<form @submit=${this.#onMake}>
      <div class="field">
        <label for="title">${t('prop.what')}</label>
        <input id="title" name="title" required maxlength="120" autocomplete="off" />
      </div>
      <div class="actions">
        <button class="primary" type="submit" ?disabled=${this.isMaking}>${t(this.isMaking ? 'prop.making' : 'prop.make')}</button>
      </div>
    </form>`;
  }

  #renderOne(one: Proposal): TemplateResult {
    const standing = this.#standing;
    const day = new Date(one.closedAt ?? one.handedInAt ?? one.madeAt).toLocaleDateString(currentLanguage(), {
      dateStyle: 'medium',
    });
    const isHere = one.id === this.#boardId;
    const waits = one.state === 'open' && standing?.role === 'owner' && !standing.branchOf;
    return html`<li class="one" data-waits=${waits}>
      <b>${one.title}</b>
      <span class="quiet small">${[sayMaker(one), sayState(one), day].join(' · ')}</span>
      ${one.word === '' ? '' : html`<blockquote>${one.word}</blockquote>`}
      <div class="actions">
        ${isLive(one) && !isHere ? html`<a class="button" href="/board/${one.id}" aria-label=${t('prop.goTo', { title: one.title })}>${t('prop.go')}</a>` : ''}
        ${
          standing?.branchOf
            ? ''
            : html`<button class=${waits ? 'primary' : ''} aria-label=${t('prop.reviewOf', { title: one.title })} @click=${() => this.dispatchEvent(new ReviewEvent(one.id))}>${t('prop.review')}</button>`
        }
      </div>
    </li>`;
  }

  readonly #onMake = async (event: SubmitEvent): Promise<void> => {
    event.preventDefault();
    const title = String(new FormData(event.target as HTMLFormElement).get('title')).trim();
    this.problem = '';
    this.isMaking = true;
    try {
      const { id } = await makeProposal(this.#boardId, title, readPerson().name);
      location.assign(`/board/${id}`);
    } catch (error) {
      this.problem = sayProblem(error);
      this.isMaking = false;
    }
  };
}
