/**
 * What the page says of proposals above a board. On a branch: what it proposes to what, hand it in, withdraw, and the
 * answer as soon as there is one. On a board: for owners how many wait, for those who may not edit the way to propose.
 *
 * @fires lb-review Somebody wants to see what differs.
 * @fires lb-proposals Somebody wants the list of proposals.
 */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { canManage, canPropose, canWrite } from '../../engine/document/index.ts';
import { Consumer } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import { handInProposal, type Proposal, type Standing, withdrawProposal } from '../sync/index.ts';
import { type PageHandles, pageHandles } from '../talk/index.ts';
import { spoken, t } from '../text/index.ts';
import { ProposalList } from './proposal-list.ts';
import { isLive, sayMaker, sayProblem } from './proposal-words.ts';
import { ProposalsEvent, ReviewEvent } from './review-event.ts';

@spoken
export class LbProposalBar extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: block;
      }
      .bar {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--lb-space-2) var(--lb-space-3);
        padding: var(--lb-space-1) var(--lb-space-3);
        border-block-start: 1px solid var(--lb-line);
        font-size: var(--lb-size-small);
        background: var(--lb-sunken);
        border-inline-start: 6px solid var(--lb-accent);
      }
      .bar :is(button, a) {
        pointer-events: auto;
      }
      .bar p {
        flex: 1 1 16rem;
        min-width: 0;
        overflow-wrap: anywhere;
      }
      .bar blockquote {
        flex-basis: 100%;
        margin: 0;
        overflow-wrap: anywhere;
        white-space: pre-wrap;
      }
    `,
  ];

  @state() private problem = '';
  @state() private isAsking = false;
  readonly #list = new ProposalList(this, () => this.#tellWaiting());
  readonly #handles = new Consumer(this, pageHandles, (now) => this.#onHandles(now));

  get #standing(): Standing | null | undefined {
    return this.#handles.value?.standing;
  }

  #onHandles(now: PageHandles | null): void {
    if (now === null) return;
    const { standing, session } = now;
    // Of a board only owners have something to hear; the others look into the panel when they want to know.
    const board = standing?.branchOf ?? (standing && canManage(standing.role) ? session.boardId : null);
    this.#list.of(board, session);
    this.#tellWaiting();
  }

  #tellWaiting(): void {
    this.#handles.value?.panels.waiting.set(this.#waiting);
  }

  /** How many were handed in to this person, an owner of the board. */
  get #waiting(): number {
    const standing = this.#standing;
    if (!standing || standing.branchOf || !canManage(standing.role)) return 0;
    return (this.#list.proposals ?? []).filter(({ state: one }) => one === 'open').length;
  }

  protected override render(): TemplateResult {
    const standing = this.#standing;
    const all = this.#list.proposals;
    if (!standing) return html``;
    const { branchOf } = standing;
    if (branchOf) {
      if (all === null) return html``;
      const own = all.find(({ id }) => id === this.#handles.value?.session.boardId);
      return own === undefined ? html`` : this.#renderBranch(own, branchOf);
    }
    if (this.#waiting > 0)
      return html`<div class="bar">
        <p role="status">${t('prop.new', { count: this.#waiting })}</p>
        <button @click=${this.#onList}>${t('prop.see')}</button>
      </div>`;
    if (!canWrite(standing.role, 'design') && canPropose(standing.role))
      return html`<div class="bar">
        <p>${t('prop.lookOnly')}</p>
        <button @click=${this.#onList}>${t('prop.make')}</button>
      </div>`;
    return html``;
  }

  #renderBranch(own: Proposal, board: string): TemplateResult {
    const values = { title: own.title, by: sayMaker(own) };
    const text =
      own.state === 'draft' || own.state === 'open'
        ? t(own.isMine ? `prop.bar.${own.state}` : `prop.bar.${own.state}Other`, values)
        : t(
            own.state === 'accepted' && own.isPart ? 'prop.bar.acceptedPart' : `prop.bar.${own.state}`,
            values,
          );
    return html`<div class="bar" data-state=${own.state}>
      <p role="status">${text}</p>
      ${this.isAsking && isLive(own) ? this.#renderQuestion(own, board) : this.#renderActions(own, board)}
      ${own.word === '' ? '' : html`<blockquote>${t('prop.word', { word: own.word })}</blockquote>`}
      <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
    </div>`;
  }

  #renderActions(own: Proposal, board: string): TemplateResult {
    return html`
      ${own.isMine && own.state === 'draft' ? html`<button class="primary" @click=${() => this.#do(() => handInProposal(board, own.id))}>${t('prop.bar.handIn')}</button>` : ''}
      ${
        own.isMine && isLive(own)
          ? html`<button
            @click=${() => {
              this.isAsking = true;
            }}
          >${t('prop.bar.withdraw')}</button>`
          : ''
      }
      <button @click=${() => this.dispatchEvent(new ReviewEvent(own.id))}>${t('prop.bar.compare')}</button>
      <a class="button" href="/board/${board}">${t('prop.bar.toBoard')}</a>
    `;
  }

  #renderQuestion(own: Proposal, board: string): TemplateResult {
    return html`<span role="group" aria-label=${t('prop.bar.sure')}>
      ${t('prop.bar.sure')}
      <button class="primary" @click=${() => this.#do(() => withdrawProposal(board, own.id))}>${t('prop.bar.yes')}</button>
      <button
        @click=${() => {
          this.isAsking = false;
        }}
      >${t('prop.bar.no')}</button>
    </span>`;
  }

  async #do(act: () => Promise<Proposal>): Promise<void> {
    this.problem = '';
    this.isAsking = false;
    try {
      await act();
    } catch (error) {
      this.problem = sayProblem(error);
    }
    await this.#list.ask();
  }

  readonly #onList = (): void => {
    this.dispatchEvent(new ProposalsEvent());
  };
}
