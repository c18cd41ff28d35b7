/**
 * Who has been at the board and changed something, for owners; and taking back what one of them did. What it would come to is shown first, worked out on
 * a copy. What stands there is kept as a version before, and it is one step of undo. What others have changed since stays.
 *
 * @fires lb-kept When what stands there was kept.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import { takeBackVisit, type WouldBe, wouldTakeBack } from '../../engine/document/index.ts';
import { pageIcon } from '../icons/index.ts';
import { usePart } from '../parts/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import {
  ApiError,
  type BoardSession,
  fetchVisitEdits,
  fetchVisits,
  keepPresent,
  type PastVisit,
  type VisitEdits,
} from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import { KeptEvent } from './kept-event.ts';
import { viewStyles, visitStyles } from './versions.styles.ts';
import { keptOf, whenOf, whoOf } from './visit-words.ts';
import { expectSaved, whyNot } from './why-not.ts';

/** What is about to be taken back. */
interface Asked extends VisitEdits {
  readonly visit: PastVisit;
  readonly wouldBe: WouldBe;
}

@spoken
export class LbVisits extends LitElement {
  static override styles = [controls, panelStyles, viewStyles, visitStyles];

  @property({ attribute: false }) session!: BoardSession;
  /** Counts up with the board, so that what is shown goes with it. */
  @property({ attribute: false }) board: unknown = null;
  @property({ type: Boolean }) canEdit = false;
  @state() private visits: readonly PastVisit[] | null = null;
  @state() private problem = '';
  @state() private news = '';
  @state() private isBusy = false;
  @state() private asked: Asked | null = null;
  @query('dialog') private dialog!: HTMLDialogElement;

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('session')) {
      this.visits = null;
      this.asked = null;
      void this.#refresh();
    } else if (changed.has('board') && this.asked !== null) {
      // Others go on meanwhile: what is shown is what would come of it now.
      const wouldBe = wouldTakeBack(this.asked.edits, this.session.design.doc);
      if (wouldBe !== null) this.asked = { ...this.asked, wouldBe };
    }
  }

  protected override render(): TemplateResult {
    const { visits } = this;
    return html`
      <p class="quiet small">${t('visits.purpose')}</p>
      <p class="warn" role="alert" ?hidden=${this.problem === '' || this.asked !== null}>${this.problem}</p>
      <p class="good" role="status" ?hidden=${this.news === ''}>${this.news}</p>
      ${
        visits === null
          ? this.problem === ''
            ? html`<p class="quiet" role="status">${t('versions.loading')}</p>`
            : html`<button @click=${() => this.#refresh()}>${t('app.again')}</button>`
          : visits.length === 0
            ? html`<p>${t('visits.none')}</p>`
            : html`<ul class="visits">
                ${repeat(
                  visits,
                  ({ id }) => id,
                  (visit) => this.#renderVisit(visit),
                )}
              </ul>`
      }
      <dialog aria-labelledby="heading" @close=${this.#onClose}>
        ${this.asked === null ? '' : this.#renderAsked(this.asked)}
      </dialog>
    `;
  }

  #renderVisit(visit: PastVisit): TemplateResult {
    const name = whoOf(visit);
    const when = whenOf(visit);
    return html`<li>
      <span class="about">
        <b>${name}</b>
        <span class="quiet small">${when} · ${t('visits.changes', { count: visit.changes })}</span>
      </span>
      ${
        this.canEdit
          ? html`<button aria-label=${t('visits.takeBackOf', { name, when })} ?disabled=${this.isBusy} @click=${() => this.#ask(visit)}>
              ${t('visits.takeBack', { name })}
            </button>`
          : ''
      }
    </li>`;
  }

  #renderAsked({ visit, wouldBe, since }: Asked): TemplateResult {
    const name = whoOf(visit);
    const kept = keptOf(wouldBe.kept, since);
    const captions = [t('versions.now'), t('visits.without', { name })];
    return html`<div class="frame">
      <div class="top">
        <div>
          <h2 id="heading">${t('visits.takeBack', { name })}</h2>
          <p class="quiet small">${whenOf(visit)}</p>
        </div>
        <button @click=${() => this.dialog.close()}>${t('app.close')}</button>
      </div>
      <lb-compare class="both" .first=${wouldBe.now} .second=${wouldBe.then} .captions=${captions}></lb-compare>
      <div class="bottom">
        ${kept === null ? '' : html`<p class="kept">${kept}</p>`}
        <p class="quiet small">${t('visits.keptFirst')}</p>
        <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
        <div class="actions">
          <button class="primary" ?disabled=${this.isBusy} @click=${this.#onTakeBack}>
            ${pageIcon('undo')}${t('visits.yes')}
          </button>
          <button @click=${() => this.dialog.close()}>${t('visits.no')}</button>
        </div>
      </div>
    </div>`;
  }

  async #refresh(): Promise<void> {
    const { session } = this;
    await this.#try(async () => {
      const visits = await fetchVisits(session.boardId);
      if (session === this.session) this.visits = visits;
    });
  }

  async #ask(visit: PastVisit): Promise<void> {
    this.news = '';
    await this.#try(async () => {
      const edits = await fetchVisitEdits(this.session.boardId, visit.id);
      if (edits.edits.length === 0) {
        this.news = [t('visits.nothing', { name: whoOf(visit) }), keptOf([], edits.since)]
          .filter(Boolean)
          .join(' ');
        return;
      }
      const wouldBe = wouldTakeBack(edits.edits, this.session.design.doc);
      if (wouldBe === null) throw new ApiError('empty-document', 'the document holds no board');
      await usePart('compare', async () => {
        this.asked = { ...edits, visit, wouldBe };
        await this.updateComplete;
        this.dialog.showModal();
      });
    });
  }

  readonly #onTakeBack = async (): Promise<void> => {
    const { asked, session } = this;
    if (asked === null) return;
    await this.#try(async () => {
      expectSaved(session);
      await keepPresent(session.boardId);
      this.dispatchEvent(new KeptEvent());
      const { kept, result } = takeBackVisit(asked.edits, session.design);
      if (!result.ok) {
        this.problem = sayError(result.error);
        return;
      }
      this.dialog.close();
      const done = t('visits.done', { name: whoOf(asked.visit) });
      this.news = [done, keptOf(kept, asked.since)].filter(Boolean).join(' ');
      this.visits = await fetchVisits(session.boardId);
    });
  };

  readonly #onClose = (): void => {
    this.asked = null;
    this.problem = '';
  };

  async #try(act: () => Promise<void>): Promise<void> {
    this.problem = '';
    this.isBusy = true;
    try {
      await act();
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = whyNot(error);
    } finally {
      this.isBusy = false;
    }
  }
}
