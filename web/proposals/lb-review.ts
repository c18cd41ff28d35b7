/**
 * A proposal beside the board: what differs, what it comes to, where both sides changed the same; for owners the choice and
 * the answer. Shown over the page by `show()`. The board goes on meanwhile, and what is shown goes with it.
 */
import { html, LitElement, type TemplateResult } from 'lit';
import { query, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import {
  type Applied,
  applyChanges,
  applyCommand,
  type Change,
  type Conflict,
  canManage,
  changeKey,
  type KeyedDesign,
  type Merge,
  mergeDesigns,
  readKeyed,
} from '../../engine/document/index.ts';
import { type ChooseEvent, type LbCompare, type Question, questionsOf } from '../compare/index.ts';
import { Consumer } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import {
  ApiError,
  acceptProposal,
  type BoardSession,
  declineProposal,
  fetchProposal,
  fetchProposalSides,
  type Proposal,
  type ProposalSides,
  type Standing,
} from '../sync/index.ts';
import { pageHandles } from '../talk/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import {
  type Choice,
  changesOf,
  choose,
  chooseAll,
  conflictKey,
  isPart,
  openConflicts,
  type Side,
} from './choice.ts';
import { isLive, sayMaker, sayProblem, sayState } from './proposal-words.ts';
import { reviewStyles } from './review.styles.ts';

/** How long to wait for the board to be saved before the answer is sent. */
const SAVED_MS = 15_000;
/** From so many on all can be decided for one side at once. */
const MANY_CONFLICTS = 3;
/** Questions shown before somebody asks for all. */
const MOST_QUESTIONS = 60;

/** Everything that is shown, worked out together. */
interface View {
  readonly ours: KeyedDesign;
  readonly theirs: KeyedDesign;
  readonly merge: Merge;
}

@spoken
export class LbReview extends LitElement {
  static override styles = [controls, reviewStyles];

  @state() private proposal: Proposal | null = null;
  @state() private sides: ProposalSides | null = null;
  @state() private view: View | null = null;
  @state() private choice: Choice = { chosen: new Set(), decided: new Map() };
  @state() private problem = '';
  @state() private news = '';
  @state() private isBusy = false;
  @state() private isAllAsked = false;
  @query('dialog') private dialog!: HTMLDialogElement;
  readonly #handles = new Consumer(this, pageHandles);
  #showing = '';
  #askedLast: readonly Change[] = [];
  #resultLast: {
    readonly ours: KeyedDesign;
    readonly changes: readonly Change[];
    readonly theirs: KeyedDesign;
    readonly result: Applied;
  } | null = null;
  #stop: (() => void) | null = null;
  #later: ReturnType<typeof setTimeout> | undefined;

  override disconnectedCallback(): void {
    this.#leave();
    super.disconnectedCallback();
  }

  get #session(): BoardSession | null {
    return this.#handles.value?.session ?? null;
  }

  get #standing(): Standing | null | undefined {
    return this.#handles.value?.standing;
  }

  /** Opens with a proposal. */
  async show(proposal: string): Promise<void> {
    await this.updateComplete;
    this.#showing = proposal;
    this.proposal = null;
    this.sides = null;
    this.view = null;
    this.news = '';
    this.isAllAsked = false;
    if (!this.dialog.open) this.dialog.showModal();
    this.#stop?.();
    this.#stop = this.#session?.design.subscribe(() => this.#boardWentOn()) ?? null;
    await this.#fetch(true);
  }

  protected override render(): TemplateResult {
    const { proposal } = this;
    return html`<dialog aria-labelledby="heading" @close=${this.#leave}>
      <div class="top">
        <div>
          <h2 id="heading">${proposal === null ? t('review.own') : t('review.title', { title: proposal.title })}</h2>
          ${proposal === null ? '' : html`<p class="quiet small">${sayMaker(proposal)} · ${sayState(proposal)}</p>`}
        </div>
        <button @click=${() => this.dialog.close()}>${t('review.close')}</button>
      </div>
      <div class="body">
        <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}
          ${this.view === null && this.problem !== '' ? html`<button @click=${() => this.#fetch(true)}>${t('review.again')}</button>` : ''}
        </p>
        <p class="good" role="status">${this.news}</p>
        ${this.view === null ? (this.problem === '' ? html`<p class="quiet" role="status">${t('review.loading')}</p>` : '') : this.#renderView(this.view)}
      </div>
      ${this.view !== null && this.#isDeciding ? this.#renderAnswer(this.view) : ''}
    </dialog>`;
  }

  get #isDeciding(): boolean {
    const standing = this.#standing;
    const { proposal } = this;
    return (
      !!standing && !standing.branchOf && canManage(standing.role) && proposal !== null && isLive(proposal)
    );
  }

  /** The board that it proposes changes to. */
  get #board(): string {
    return this.#standing?.branchOf ?? this.#session?.boardId ?? '';
  }

  #renderView({ ours, theirs, merge }: View): TemplateResult {
    const isDeciding = this.#isDeciding;
    const result = this.#resultOf(
      ours,
      isDeciding ? changesOf(merge, this.choice, ours, theirs) : merge.changes,
      theirs,
    );
    const isNothing = merge.changes.length === 0 && merge.conflicts.length === 0;
    return html`
      ${isNothing ? html`<p>${t('review.nothing')}</p>` : ''}
      ${
        result.ok
          ? ''
          : html`<p class="warn" role="alert">${t('prop.failed', { why: sayError(result.error) })}</p>`
      }
      ${
        isDeciding && merge.changes.length > 0
          ? html`<div class="actions">
              <button @click=${() => this.#choose(chooseAll(merge).chosen)}>${t('review.all')}</button>
              <button @click=${() => this.#choose(new Set())}>${t('review.noneChosen')}</button>
              <span class="quiet small" role="status">${t('review.chosen', { chosen: this.choice.chosen.size, count: merge.changes.length })}</span>
            </div>`
          : ''
      }
      <lb-compare
        .first=${ours}
        .second=${result.ok ? result.value : theirs}
        .source=${theirs}
        .changes=${merge.changes}
        .asked=${this.#asked(merge)}
        .captions=${[t(this.view?.ours === this.sides?.base ? 'review.began' : 'review.board'), t(isDeciding ? 'review.result' : 'review.proposal')]}
        .chosen=${isDeciding ? this.choice.chosen : null}
        @lb-choose=${this.#onChoose}
      >${merge.conflicts.length === 0 ? '' : this.#renderConflicts(merge.conflicts, { before: ours, after: theirs })}</lb-compare>
    `;
  }

  /** The board with the changes; the same object while nothing differs, so that nothing is computed anew for it. */
  #resultOf(ours: KeyedDesign, changes: readonly Change[], theirs: KeyedDesign): Applied {
    const last = this.#resultLast;
    const isSame =
      last !== null &&
      last.ours === ours &&
      last.theirs === theirs &&
      last.changes.length === changes.length &&
      last.changes.every((change, i) => change === changes[i]);
    if (isSame) return last.result;
    const result = applyChanges(ours, changes, theirs);
    this.#resultLast = { ours, changes, theirs, result };
    return result;
  }

  /** What still has to be decided; the same list until that changes, so that nothing is drawn anew for it. */
  #asked(merge: Merge): readonly Change[] {
    const open = openConflicts(merge, this.choice).map(({ changes: [first] }) => first);
    if (open.length !== this.#askedLast.length || open.some((one, i) => one !== this.#askedLast[i]))
      this.#askedLast = open;
    return this.#askedLast;
  }

  #renderConflicts(
    conflicts: readonly Conflict[],
    sides: { readonly before: KeyedDesign; readonly after: KeyedDesign },
  ): TemplateResult {
    const isDeciding = this.#isDeciding;
    const questions = questionsOf(conflicts, sides);
    const shown = this.isAllAsked ? questions : questions.slice(0, MOST_QUESTIONS);
    return html`<section class="conflicts" aria-labelledby="conflicts">
      <h3 id="conflicts">${t('review.conflicts')}</h3>
      <p class="small">${t('review.conflictsHint')}</p>
      ${
        isDeciding && conflicts.length >= MANY_CONFLICTS
          ? html`<div class="actions">
              <button @click=${() => this.#decide(conflicts, 'ours')}>${t('review.allOurs')}</button>
              <button @click=${() => this.#decide(conflicts, 'theirs')}>${t('review.allTheirs')}</button>
            </div>`
          : ''
      }
      ${shown.map((question) => this.#renderQuestion(question))}
      ${
        shown.length === questions.length
          ? ''
          : html`<button
            @click=${() => {
              this.isAllAsked = true;
            }}
          >${t('diff.more', { count: questions.length - shown.length })}</button>`
      }
    </section>`;
  }

  #renderQuestion({ conflicts, what, ours, theirs, rows }: Question): TemplateResult {
    const keys = conflicts.map(conflictKey);
    const radio = (side: Side, label: string): TemplateResult => html`<label>
      <input
        type="radio"
        name=${keys[0]!}
        value=${side}
        ?disabled=${!this.#isDeciding}
        .checked=${live(keys.every((key) => this.choice.decided.get(key) === side))}
        @change=${() => this.#decide(conflicts, side)}
      />
      <span>${label}</span>
    </label>`;
    const isPlaced = rows.some((span) => span !== null);
    return html`<fieldset>
      <legend>${what}</legend>
      ${radio('ours', t('review.ours', { what: ours }))} ${radio('theirs', t('review.theirs', { what: theirs }))}
      ${isPlaced ? html`<button @click=${() => this.renderRoot.querySelector<LbCompare>('lb-compare')?.show(rows)} aria-label=${t('diff.show', { what })}>${t('review.show')}</button>` : ''}
    </fieldset>`;
  }

  #renderAnswer(view: View): TemplateResult {
    const { merge } = view;
    const open = openConflicts(merge, this.choice).length;
    const taken = changesOf(merge, this.choice, view.ours, view.theirs).length;
    const isNothing = merge.changes.length + merge.conflicts.length === 0;
    const canAccept = !this.isBusy && open === 0 && (taken > 0 || isNothing);
    return html`<form class="answer" @submit=${(event: Event) => event.preventDefault()}>
      <label for="word">${t('review.word')}</label>
      <textarea id="word" rows="2" maxlength="1000"></textarea>
      <div class="actions">
        <button class="primary" type="button" ?disabled=${!canAccept} @click=${() => this.#accept(view)}>
          ${t(isPart(merge, this.choice) ? 'review.acceptPart' : 'review.acceptAll')}
        </button>
        <button type="button" ?disabled=${this.isBusy} @click=${this.#onDecline}>${t('review.decline')}</button>
        <span class="small ${open > 0 ? 'warn' : 'quiet'}" role="status">${open > 0 ? t('review.decide', { count: open }) : t('review.undo')}</span>
      </div>
    </form>`;
  }

  /** @param isNew whether all is chosen anew */
  async #fetch(isNew: boolean): Promise<void> {
    const wanted = this.#showing;
    if (isNew) this.problem = '';
    try {
      const [proposal, sides] = await Promise.all([
        fetchProposal(this.#board, wanted),
        fetchProposalSides(this.#board, wanted),
      ]);
      if (wanted !== this.#showing) return;
      this.proposal = proposal;
      this.sides = sides;
      this.#compute(isNew);
    } catch (error) {
      if (wanted === this.#showing) this.problem = sayProblem(error);
    }
  }

  #compute(isNew: boolean): void {
    const { sides, proposal } = this;
    const session = this.#session;
    const now = session === null ? null : readKeyed(session.design.doc);
    if (sides === null || now === null || proposal === null) return;
    const isBranch = !!this.#standing?.branchOf;
    // What was answered is shown as it was proposed, whatever the board has become; on the branch itself so is all.
    const ours = isLive(proposal) && !isBranch ? now : sides.base;
    const theirs = isBranch ? now : sides.present;
    const merge = mergeDesigns(sides.base, ours, theirs);
    const before = new Set(this.view?.merge.changes.map(changeKey));
    const all = chooseAll(merge);
    this.view = { ours, theirs, merge };
    if (isNew) {
      this.choice = all;
      return;
    }
    const keys = new Set(merge.conflicts.map(conflictKey));
    this.choice = {
      // What was not there before is chosen as at the beginning; what was left stays left.
      chosen: new Set([...all.chosen].filter((key) => !before.has(key) || this.choice.chosen.has(key))),
      decided: new Map([...this.choice.decided].filter(([key]) => keys.has(key))),
    };
  }

  #boardWentOn(): void {
    clearTimeout(this.#later);
    this.#later = setTimeout(() => {
      if (!this.isBusy) this.#compute(false);
    }, 300);
  }

  readonly #onChoose = (event: ChooseEvent): void => {
    if (this.view === null) return;
    const { ours, theirs, merge } = this.view;
    this.#choose(choose(this.choice.chosen, event.keys, event.isChosen, merge.changes, ours, theirs));
  };

  #choose(chosen: ReadonlySet<string>): void {
    this.choice = { ...this.choice, chosen };
  }

  #decide(conflicts: readonly Conflict[], side: Side): void {
    const decided = new Map(this.choice.decided);
    for (const conflict of conflicts) decided.set(conflictKey(conflict), side);
    this.choice = { ...this.choice, decided };
  }

  get #word(): string {
    return this.renderRoot.querySelector<HTMLTextAreaElement>('#word')?.value.trim() ?? '';
  }

  /** Applies as one edit, waits until that is on the disk, then tells the server what state was taken. */
  async #accept({ ours, theirs, merge }: View): Promise<void> {
    const { sides } = this;
    const session = this.#session;
    if (session === null || sides === null) return;
    // Between the last drawing and the click somebody may have changed what would be written over.
    if (this.#isStale(merge)) {
      this.#compute(false);
      this.problem = t('review.wentOn');
      return;
    }
    const part = isPart(merge, this.choice);
    const changes = changesOf(merge, this.choice, ours, theirs);
    if (changes.length > 0) {
      const done = session.design.run(applyCommand(changes, theirs));
      if (!done.ok) {
        this.problem = t('prop.failed', { why: sayError(done.error) });
        return;
      }
    }
    await this.#answer(async () => {
      if (!(await isSavedWithin(session, SAVED_MS))) throw new ApiError('unreachable', 'not saved');
      return acceptProposal(session.boardId, this.#showing, {
        seen: sides.seen,
        word: this.#word,
        isPart: part,
      });
    }, t('review.accepted'));
  }

  #isStale(merge: Merge): boolean {
    const { sides } = this;
    const session = this.#session;
    const now = session === null ? null : readKeyed(session.design.doc);
    if (now === null || sides === null) return true;
    const fresh = mergeDesigns(sides.base, now, sides.present);
    return JSON.stringify(fresh) !== JSON.stringify(merge);
  }

  readonly #onDecline = (): void => {
    void this.#answer(() => declineProposal(this.#board, this.#showing, this.#word), t('review.declined'));
  };

  async #answer(send: () => Promise<Proposal>, done: string): Promise<void> {
    this.isBusy = true;
    this.problem = '';
    this.news = t('review.saving');
    try {
      this.proposal = await send();
      this.news = done;
      this.#compute(true);
    } catch (error) {
      this.news = '';
      if (error instanceof ApiError && error.kind === 'proposal-moved') {
        await this.#fetch(false);
        this.problem = t('review.moved');
      } else if (error instanceof ApiError && error.kind === 'unreachable')
        this.problem = t('review.offline');
      else this.problem = sayProblem(error);
    } finally {
      this.isBusy = false;
    }
  }

  readonly #leave = (): void => {
    this.#stop?.();
    this.#stop = null;
    clearTimeout(this.#later);
  };
}

/** Whether what was edited here is on the server's disk, waiting so long for it at most. */
async function isSavedWithin(session: BoardSession, ms: number): Promise<boolean> {
  // The mark goes out at the end of this turn.
  await Promise.resolve();
  const deadline = performance.now() + ms;
  while (session.saved !== 'saved') {
    if (performance.now() > deadline) return false;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return true;
}
