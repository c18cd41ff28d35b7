/** Tying: what to do in one sentence, the band so far with the next knot open, the strings as they hang. */
import { css, html, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import {
  isHung,
  minutesFor,
  nameSteps,
  type OwnPiece,
  ownPiece,
  paceOf,
  REST_AFTER_MS,
  type StepSize,
  sinceRestMs,
  type WorkStep,
} from '../../engine/index.ts';
import { hitchDrawing, hitchWays } from '../icons/index.ts';
import { usePart } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import { currentLanguage, spoken, t } from '../text/index.ts';
import { sayWorkOrderError, stepWords } from '../words/index.ts';
import { BackgroundJob, runWorkOrder, stepAt, type WorkOrderJob } from '../worker/index.ts';
import { Feedback, type FeedbackChoice, ownDevice, readFeedback } from './feedback.ts';
import { type Keychain, STEP_SIZES } from './keychain-shelf.ts';
import { sayGroup } from './say-group.ts';
import { stageStyles, TableStage } from './stage.ts';
import { workAt } from './table-work.ts';
import { TieClock } from './tie-clock.ts';
import { rowsInSight, tieDrawing } from './tie-drawing.ts';
import { firstRows, isAfterFirstRow, Tying } from './tying.ts';
import { placeSeen, placesCounted, sideSeen, sightOf } from './views.ts';

/** Orders of more knots than this are made in a worker. */
const MOST_KNOTS_HERE = 3000;

@spoken
export class LbTableTie extends TableStage {
  static override styles = [
    controls,
    stageStyles,
    css`
      :host {
        grid-template: 44px auto minmax(0, 1fr) / minmax(0, 1fr);
      }
      .line {
        flex-wrap: nowrap;
      }
      .line > * {
        flex: none;
      }
      .count {
        flex: 1 1 0;
        min-width: 0;
        overflow: hidden;
        text-overflow: ellipsis;
        font-variant-numeric: tabular-nums;
        white-space: nowrap;
      }
      .mine {
        flex: 0 1 auto;
        min-width: 0;
        margin-inline-start: auto;
        line-height: 1.15;
      }
      .line > select {
        flex: 0 0 8.5rem;
        min-width: 0;
      }
      .said {
        min-height: 2.6em;
      }
      .looking .said {
        color: var(--lb-text-quiet);
      }
      .sight {
        display: grid;
        grid-template-columns: 40px minmax(0, 1fr) auto 40px;
        align-items: center;
        min-height: 0;
        touch-action: pan-y;
        contain: strict;
      }
      .tying {
        contain: strict;
      }
      /* At the lower edge, which does not move with what is said. */
      .sight button {
        align-self: end;
        height: 120px;
        padding: 0;
        border-color: transparent;
        background: transparent;
        font-size: 1.5rem;
      }
      .hand {
        height: 100%;
        min-height: 0;
      }
      .hand svg {
        width: auto;
        max-width: min(27vw, 170px);
      }
      .hand.flat {
        display: none;
      }
      @media (orientation: portrait) and (max-height: 480px) {
        .hand.tall {
          display: none;
        }
        .hand.flat {
          display: block;
        }
      }
      @media (max-height: 480px) {
        .sight button {
          height: 64px;
        }
      }
      .sight .icon:dir(rtl) {
        transform: scaleX(-1);
      }
      .resting {
        opacity: 0.55;
      }
      text {
        fill: var(--lb-text);
        font-weight: 700;
      }
      dialog {
        max-width: min(92vw, 26rem);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        color: var(--lb-text);
      }
      .help {
        margin-inline-start: auto;
        width: 44px;
        padding: 0;
        font-weight: 700;
      }
      .rest {
        color: var(--lb-warn);
      }
      dialog.aid {
        width: 100vw;
        height: 100dvh;
        max-width: none;
        max-height: none;
        margin: 0;
        padding: 0;
        border: 0;
        border-radius: 0;
      }
      dialog.aid:not([open]) {
        display: none;
      }
      dialog.compare {
        position: fixed;
        inset: 0;
        z-index: 5;
        margin: auto;
        max-height: 92dvh;
        overflow: auto;
        box-shadow: var(--lb-shadow);
      }
      .again {
        flex: 0 0 5.25rem;
        padding: 0 var(--lb-space-1);
        border-color: var(--lb-accent);
        overflow: hidden;
        font-size: var(--lb-size-small);
        line-height: 1.15;
      }
      dialog.ask .line {
        margin-block-start: var(--lb-space-4);
      }
      dialog.ask button {
        flex: 1;
        min-height: 56px;
      }
    `,
  ];

  readonly #job = new BackgroundJob<WorkOrderJob>(this, () => this.#onOrder());
  @property({ attribute: false }) choice: FeedbackChoice = readFeedback();
  @state() private tying: Tying | null = null;
  /** Colours that must hang after the first row, while they are compared; null = not now. */
  @state() private comparing: readonly string[] | null = null;
  readonly #feedback = new Feedback(ownDevice(), currentLanguage);
  /** Steps by row, of the order in hand. */
  #rows = new Map<number, number[]>();
  #firstRows: readonly (readonly number[])[] = [];
  #steps: readonly WorkStep[] = [];
  /** The keychain as it is made. */
  #own: OwnPiece | null = null;
  readonly #clock = new TieClock(() => Date.now());
  /** Whether help was fetched and is shown. */
  @state() private isAided = false;

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('visibilitychange', this.#onSight);
    this.#clock.anew();
  }

  override disconnectedCallback(): void {
    document.removeEventListener('visibilitychange', this.#onSight);
    this.#feedback.hush();
    super.disconnectedCallback();
  }

  readonly #onSight = (): void => {
    if (document.visibilityState === 'hidden') this.#clock.hide();
  };

  protected override willUpdate(changed: PropertyValues): void {
    const before = changed.get('keychain') as Keychain | undefined;
    const { method, firstHalf, size, tied, own } = this.keychain;
    const isOther =
      changed.has('board') ||
      (changed.has('keychain') &&
        (before?.method !== method || before.firstHalf !== firstHalf || before.own !== own));
    if (isOther) this.#makeOrder();
    else if (changed.has('keychain')) {
      if (before?.size !== size) this.#group();
      else if (this.tying !== null && this.tying.tied !== tied) this.tying.follow(tied);
    }
  }

  /** Rules N21, N23. */
  override on(): void {
    const { tying } = this;
    if (tying === null || this.#isAsking) return;
    const { size: before } = tying.tied;
    const answer = tying.on();
    if (answer === 'tied') {
      this.#feedback.touch(this.choice);
      this.change({
        tied: tying.tied,
        marks: this.#clock.tied(this.keychain.marks, tying.tied.size - before),
      });
    }
    if (answer === 'done') this.change({ stage: 'finish' });
    if (answer === 'ask') this.#dialog?.showModal();
    this.requestUpdate();
  }

  /** Rule N24. */
  override back(): void {
    const { tying } = this;
    if (tying === null || this.#isAsking) return;
    const { tied } = tying;
    tying.back();
    if (tying.tied !== tied) this.change({ tied: tying.tied, marks: this.#clock.back(this.keychain.marks) });
    this.requestUpdate();
  }

  /** Rule N22. */
  override look(by: number): void {
    this.tying?.look(by);
    this.requestUpdate();
  }

  /** What is read aloud is what stands there. */
  protected override updated(): void {
    this.#feedback.say(this.tying === null ? '' : this.#sayStep(this.tying), this.choice);
  }

  get #dialog(): HTMLDialogElement | null {
    return this.renderRoot.querySelector('dialog.ask');
  }

  /** Whether something stands before the work that wants an answer. */
  get #isAsking(): boolean {
    return this.renderRoot.querySelector('dialog[open]') !== null;
  }

  #makeOrder(): void {
    this.tying = null;
    const { method, firstHalf, own } = this.keychain;
    this.#own = ownPiece(this.board, own);
    const { board } = this.#own;
    const job: WorkOrderJob = { kind: 'work-order', board, method, covers: 'piece', rowsFirst: 0, firstHalf };
    const repeats = board.piece.repeats ?? (board.piece.lengthMm === undefined ? 1 : MOST_KNOTS_HERE);
    if (board.pattern.knots.length * repeats > MOST_KNOTS_HERE) this.#job.start(job, true);
    else this.#job.settle(runWorkOrder(job));
  }

  #onOrder(): void {
    const { state } = this.#job;
    if (state.kind !== 'found' || !state.answer.ok) return;
    const table = state.answer.value;
    const steps = Array.from({ length: table.count }, (_, at) => stepAt(table, at));
    this.#steps = nameSteps(steps, this.#own!);
    this.#rows = new Map();
    for (const [at, { row }] of this.#steps.entries()) {
      const own = this.#rows.get(row);
      if (own === undefined) this.#rows.set(row, [at]);
      else own.push(at);
    }
    this.#firstRows = firstRows(this.#rows);
    this.#group();
  }

  #group(): void {
    const { size, tied } = this.keychain;
    this.tying = new Tying(this.#steps, this.board.pattern.colours.length, size, tied);
  }

  protected override render(): TemplateResult {
    const { tying } = this;
    return tying === null ? this.#renderPending() : this.#renderTying(tying);
  }

  #renderPending(): TemplateResult {
    const { state } = this.#job;
    if (state.kind === 'failed')
      return html`<p class="warn" role="alert">${t('work.failed', { why: state.why })}</p>`;
    if (state.kind === 'found' && !state.answer.ok)
      return html`<p class="warn" role="alert">${t('work.failed', { why: sayWorkOrderError(state.answer.error) })}</p>`;
    const share = state.kind === 'looking' ? state.share : 0;
    return html`<p role="status">${t('table.tie.making', { percent: Math.floor(share * 100) })}</p>`;
  }

  #renderTying(tying: Tying): TemplateResult {
    const { seen, groups, isLooking } = tying;
    return html`
      <div class="line">
        <select aria-label=${t('table.tie.size')} @change=${(event: Event) => this.change({ size: (event.target as HTMLSelectElement).value as StepSize })}>
          ${STEP_SIZES.map((size) => html`<option value=${size} .selected=${size === this.keychain.size}>${t(`table.size.${size}`)}</option>`)}
        </select>
        ${
          isLooking
            ? html`<button class="mine primary" @click=${() => this.#return()}>${t('table.tie.return')}</button>`
            : html`${this.#renderAgain(tying)}<span class="count small quiet">${t('table.tie.step', { step: Math.min(seen + 1, groups.length), steps: groups.length })}${this.#sayMinutes(tying)}</span>`
        }
        <button class="help" aria-label=${t('table.aid')} title=${t('table.aid')} @click=${() => this.#aid()}>?</button>
      </div>
      <div class=${isLooking ? 'looking' : ''}>
        ${this.#renderRest()}<p class="said" role="status">${isLooking ? html`<span class="small">${t('table.tie.looking')}: </span>` : ''}${this.#sayStep(tying)}</p>
      </div>
      <div class="sight">
        <button aria-label=${t('table.tie.behind')} title=${t('table.tie.behind')} ?disabled=${seen === 0} @click=${() => this.look(-1)}><span class="icon" aria-hidden="true">‹</span></button>
        ${this.#renderDrawing(tying)} ${this.#renderHitches(tying)}
        <button aria-label=${t('table.tie.ahead')} title=${t('table.tie.ahead')} ?disabled=${seen >= groups.length - 1} @click=${() => this.look(1)}><span class="icon" aria-hidden="true">›</span></button>
      </div>
      ${this.#renderAid(tying)}
      <dialog class="ask" aria-labelledby="ask">
        <p id="ask" class="said">${t('table.tie.ask')}</p>
        <div class="line">
          <button @click=${() => this.#dialog?.close()}>${t('table.no')}</button>
          <button class="primary" @click=${() => this.#jump()}>${t('table.tie.askYes')}</button>
        </div>
      </dialog>
      ${this.#renderCompare()}
    `;
  }

  /** Rule N61. */
  #sayMinutes(tying: Tying): string {
    const pace = paceOf(this.keychain.marks);
    if (pace === null || tying.isDone) return '';
    const { minutes } = minutesFor(pace, tying.steps.length - tying.tiedCount);
    return ` · ${t('table.tie.minutes', { minutes: Math.ceil(minutes) })}`;
  }

  /** Rule N62. */
  #renderRest(): TemplateResult | '' {
    if (sinceRestMs(this.keychain.marks) < REST_AFTER_MS) return '';
    return html`<p class="rest small" role="status">${t('table.rest')}</p>`;
  }

  /** Fetched when it is first asked for. Rule N42. */
  #aid(): Promise<unknown> {
    return usePart('table-aid', async () => {
      this.isAided = true;
      await this.updateComplete;
      this.renderRoot.querySelector<HTMLDialogElement>('dialog.aid')?.showModal();
    });
  }

  #renderAid(tying: Tying): TemplateResult {
    const close = (): void => this.renderRoot.querySelector<HTMLDialogElement>('dialog.aid')?.close();
    return html`<dialog class="aid" aria-label=${t('table.aid')} @close=${() => {
      this.isAided = false;
    }}>${
      this.isAided && this.#own !== null
        ? html`<lb-table-aid .keychain=${this.keychain} .begun=${this.board} .work=${workAt(this.#own.board, tying.steps, tying.tied)} @lb-close=${close}></lb-table-aid>`
        : ''
    }</dialog>`;
  }

  #sayStep(tying: Tying): string {
    const { groups, seen } = tying;
    const group = groups[seen];
    if (groups.length === 0) return t('table.tie.none');
    if (group === undefined) return t('table.tie.done');
    return sayGroup(this.board, group, tying.leftOf(seen), sightOf(this.keychain.view));
  }

  /** Until the second row is tied as well. Rule N90. */
  #renderAgain(tying: Tying): TemplateResult | '' {
    if (this.keychain.isCompared || tying.isLooking || !isAfterFirstRow(this.#firstRows, tying)) return '';
    const compare = (): void => {
      const { colours } = this.board.pattern;
      const hanging = tying.hanging(tying.mine);
      const counted = placesCounted(colours.length, sightOf(this.keychain.view));
      this.comparing = counted.map((place) => colours[hanging[place]!]!);
    };
    return html`<button class="again" @click=${compare}>${t('table.mount.again')}</button>`;
  }

  #renderCompare(): TemplateResult | '' {
    if (this.comparing === null) return '';
    const sight = sightOf(this.keychain.view);
    const close = (): void => {
      this.comparing = null;
    };
    return html`<dialog class="compare" open aria-label=${t('table.mount.again')} @lb-hanging-same=${() => this.change({ isCompared: true })}>
      <lb-hanging-strip
        .must=${this.comparing}
        .side=${sideSeen(sight.from, sight)}
        .nameOf=${(colour: string) => this.nameOf(colour)}
        .hexOf=${(colour: string) => this.hexOf(colour)}
        .sameText=${t('table.mount.sameRow')}
        .isHung=${isHung(this.board.piece)}
      ></lb-hanging-strip>
      <div class="line"><button class="primary" @click=${close}>${t('table.mount.againClose')}</button></div>
    </dialog>`;
  }

  #return(): void {
    this.tying?.return();
    this.requestUpdate();
  }

  #jump(): void {
    const { tying } = this;
    this.#dialog?.close();
    if (tying === null) return;
    tying.jump();
    this.change({ tied: tying.tied });
    this.requestUpdate();
  }

  /** The hand's move for the next knot. Rule N70. */
  #renderHitches(tying: Tying): TemplateResult | '' {
    const next = tying.groups[tying.seen] === undefined ? undefined : tying.leftOf(tying.seen)[0];
    if (next === undefined) return html`<span class="hand"></span>`;
    const { kind, knotting, carrier } = next;
    const { colours } = this.board.pattern;
    const sight = sightOf(this.keychain.view);
    const [first, second] = hitchWays(kind);
    const label = t('table.hitch.drawing', {
      knot: stepWords().knots[kind],
      first: t(`table.hitch.${sideSeen(first, sight)}`),
      second: t(`table.hitch.${sideSeen(second, sight)}`),
    });
    const drawn = (isTall: boolean): TemplateResult =>
      hitchDrawing(label, {
        kind,
        knotting: this.hexOf(colours[knotting]!),
        carrier: this.hexOf(colours[carrier]!),
        isTurned: sight.isTurned,
        isTall,
      });
    return html`<div class="hand tall">${drawn(true)}</div><div class="hand flat">${drawn(false)}</div>`;
  }

  #renderDrawing(tying: Tying): TemplateResult {
    const { pattern } = this.board;
    const { seen } = tying;
    const open = tying.groups[seen] === undefined ? [] : tying.leftOf(seen);
    const isBefore = tying.isBefore(seen);
    const [from, to] = rowsInSight(open, tying.steps.at(-1)?.row ?? 0);
    const knots: { readonly step: WorkStep; readonly isTied: boolean }[] = [];
    for (let row = from; row <= to; row++)
      for (const at of this.#rows.get(row) ?? [])
        knots.push({ step: tying.steps[at]!, isTied: isBefore(at) });
    const hanging = tying.hanging(seen);
    const strings = pattern.colours.length;
    const sight = sightOf(this.keychain.view);
    const colours = Array.from(hanging, (string) => this.nameOf(pattern.colours[string]!));
    // Read out from the left as it is seen.
    if (sight.isTurned) colours.reverse();
    return tieDrawing({
      label: `${t('table.tie.drawing')}. ${t('table.tie.hangs', { colours: colours.join(', ') })}`,
      numberOf: (place) => placeSeen(place, strings, sight).number,
      isTurned: sight.isTurned,
      hexes: pattern.colours.map((colour) => this.hexOf(colour)),
      knots,
      open,
      hanging,
      drawn: this.drawn,
    });
  }
}
