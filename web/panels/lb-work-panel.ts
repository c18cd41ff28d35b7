/** In which order to tie the knots, step by step, in large type. */
import { css, html, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { describeStep, type StepView, type WorkStep } from '../../engine/index.ts';
import { Subscriptions } from '../context/index.ts';
import { choiceField, numberField, readNumber } from '../fields/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import type { PageHandles } from '../talk/index.ts';
import { t } from '../text/index.ts';
import { formatNumber } from '../units/index.ts';
import { sayWorkOrderError, stepWords } from '../words/index.ts';
import {
  BackgroundJob,
  runWorkOrder,
  type StepTable,
  stepAt,
  type WorkOrderAnswer,
  type WorkOrderJob,
} from '../worker/index.ts';
import { entryMark } from './entry-mark.ts';
import { firstHalfField } from './first-half-field.ts';
import { Panel } from './panel.ts';
import { ScreenAwake } from './screen-awake.ts';
import type { WorkPlace } from './work-place.ts';

/** Orders of more knots than this are made in a worker. */
const MOST_KNOTS_HERE = 3000;

export class LbWorkPanel extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      .step {
        display: grid;
        gap: var(--lb-space-3);
        padding: var(--lb-space-4);
        border: 2px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
      }
      .step .said {
        font-size: 1.5rem;
        line-height: 1.35;
        font-weight: 600;
        min-height: 5.4em;
        overflow-wrap: anywhere;
      }
      .step.long .said {
        font-size: var(--lb-size-lead);
      }
      .step .count {
        display: flex;
        flex-wrap: wrap;
        justify-content: space-between;
        align-items: center;
        gap: var(--lb-space-2);
        font-variant-numeric: tabular-nums;
      }
      .colours {
        display: flex;
        align-items: center;
        gap: var(--lb-space-2);
      }
      .colours .swatch {
        width: 2em;
        height: 2em;
        border-radius: var(--lb-radius-small);
      }
      .step .actions button {
        flex: 1;
        min-height: 52px;
        font-size: var(--lb-size-lead);
        font-weight: 650;
      }
      label.check {
        display: flex;
        align-items: center;
        gap: var(--lb-space-2);
        min-height: var(--lb-target);
      }
      label.check input {
        min-height: 0;
        width: 20px;
        height: 20px;
        accent-color: var(--lb-accent);
      }
    `,
  ];

  @property({ attribute: false }) place!: WorkPlace;
  readonly #job = new BackgroundJob<WorkOrderJob>(this, () => this.#onOrder());
  readonly #awake = new ScreenAwake(this);
  /** What stands in the field of the first rows while it cannot be taken. */
  #refused: string | null = null;
  /** The order in which the maker's place was last found. */
  #followed: StepTable | null = null;
  readonly #subscriptions = new Subscriptions(this);

  protected override onHandles(handles: PageHandles | null): void {
    this.#subscriptions.keep();
    if (handles !== null) this.#subscriptions.keep(handles.panels.wish.subscribe(() => this.#goWished()));
  }

  protected override onBoard(): void {
    this.#look();
  }

  /** There is another order, or none any more. */
  #onOrder(): void {
    const table = this.#table();
    if (table !== null && table !== this.#followed) {
      this.#followed = table;
      this.place.follow(table, this.design);
      this.#goWished();
    }
    this.#lightStep();
  }

  /** Goes to the step whose knot is to be shown; its mark sees to the rest. */
  #goWished(): void {
    const wish = this.handles?.panels.wish.value;
    if (wish?.kind === 'entry' && wish.panel === 'work' && wish.at.on === 'knot') this.#showKnot(wish.at);
  }

  protected override render(): TemplateResult {
    const { place } = this;
    return html`
      <h2>${t('panels.work')}</h2>
      <p class="quiet">${t('work.purpose')}</p>
      <div class="fields">
        ${choiceField({
          id: 'method',
          label: t('work.method'),
          value: place.method,
          choices: [
            ['rows', t('work.rows')],
            ['segments', t('work.segments')],
            ['exact', t('work.exact')],
          ],
          onValue: (method) => {
            place.method = method;
            this.#refused = null;
            place.startAnew();
            this.#look();
          },
        })}
        ${place.method === 'rows' ? '' : this.#renderRowsFirst()}
        ${firstHalfField(place, () => this.#look())}
        ${choiceField({
          id: 'covers',
          label: t('work.covers'),
          value: place.covers,
          choices: [
            ['pattern', t('work.covers.pattern')],
            ['piece', t('work.covers.piece')],
          ],
          onValue: (covers) => {
            place.covers = covers;
            place.startAnew();
            this.#look();
          },
        })}
        ${choiceField<StepView>({
          id: 'view',
          label: t('work.view'),
          value: place.view,
          choices: (['plain', 'left-handed', 'mirrored'] as const).map((view) => [
            view,
            t(`work.view.${view}`),
          ]),
          onValue: (view) => {
            place.view = view;
            place.keep();
            this.requestUpdate();
          },
        })}
      </div>
      <label class="check"><input type="checkbox" .checked=${place.isLong} @change=${(event: Event) => {
        place.isLong = (event.target as HTMLInputElement).checked;
        place.keep();
        this.requestUpdate();
      }} />${t('work.long')}</label>
      ${ScreenAwake.isPossible ? this.#renderAwake() : ''}
      ${this.#renderFound()}
      <p class="caution">${t('caution.hands')}</p>
    `;
  }

  #lightStep(): void {
    const step = this.#step();
    if (step === null || step.part === 'end') this.light(null);
    else this.light({ knots: [{ row: step.partRow, k: step.k }], isFollowed: true });
  }

  #rowsFirst(): number {
    return Math.min(this.place.rowsFirst, this.board.pattern.rows);
  }

  #renderRowsFirst(): TemplateResult {
    const { place } = this;
    const most = this.board.pattern.rows;
    return numberField({
      id: 'rows-first',
      label: t('work.rowsFirst'),
      value: this.#refused ?? String(this.#rowsFirst()),
      wrong: this.#refused === null ? undefined : t('piece.wrong.whole', { least: 0, most }),
      onValue: (text) => {
        const rows = readNumber(text) ?? 0;
        const isTaken = Number.isSafeInteger(rows) && rows >= 0 && rows <= most;
        this.#refused = isTaken ? null : text;
        this.requestUpdate();
        if (!isTaken || rows === place.rowsFirst) return;
        place.rowsFirst = rows;
        place.startAnew();
        this.#look();
      },
    });
  }

  #renderAwake(): TemplateResult {
    return html`<label class="check"><input type="checkbox" .checked=${this.#awake.isWanted} @change=${(event: Event) => this.#awake.want((event.target as HTMLInputElement).checked)} />${t('work.awake')}</label>
      <p class="small warn" role="status" ?hidden=${!this.#awake.hasFailed}>${this.#awake.hasFailed ? t('work.notAwake') : ''}</p>`;
  }

  #renderFound(): TemplateResult {
    const { state } = this.#job;
    switch (state.kind) {
      case 'idle':
        return html`<p role="status">${t('work.cancelled')}</p>
          <div class="actions"><button @click=${() => this.#look()}>${t('app.again')}</button></div>`;
      case 'looking':
        return html`<label>${t('work.computing', { percent: Math.floor(state.share * 100) })}<progress max="1" .value=${state.share}></progress></label>
          <div class="actions"><button @click=${() => this.#job.cancel()}>${t('work.cancel')}</button></div>`;
      case 'failed':
        return html`<p class="warn" role="alert">${t('work.failed', { why: state.why })}</p>`;
      case 'found': {
        const { answer } = state;
        if (!answer.ok) return html`<p class="warn" role="alert">${this.#sayFailure(answer.error)}</p>`;
        return answer.value.count === 0
          ? html`<p role="status">${t('work.none')}</p>`
          : this.#renderOrder(answer.value);
      }
    }
  }

  #sayFailure(error: Extract<WorkOrderAnswer, { ok: false }>['error']): string {
    if (error.kind !== 'too-large') return t('work.failed', { why: sayWorkOrderError(error) });
    if (error.path !== 'method') return t('work.tooLarge');
    const { lowerBound, pickUps } = error;
    return t('work.unsettled', { from: formatNumber(lowerBound, 0), to: formatNumber(pickUps, 0) });
  }

  #renderOrder(table: StepTable): TemplateResult {
    const { place, board } = this;
    const index = Math.min(place.step, table.count - 1);
    const step = stepAt(table, index);
    const { pattern } = board;
    const hexAt = (string: number): string => this.hexOf(pattern.colours[string]!);
    const isLast = index === table.count - 1;
    return html`
      <div class="step ${place.isLong ? 'long' : ''}" role="group" tabindex="0" data-knots=${step.part === 'end' ? nothing : `${step.partRow}:${step.k}`} aria-label=${t('work.card')} aria-describedby="keys" @keydown=${this.#onKey}>
        <div class="count small">
          <span>${t('work.step', { step: index + 1, steps: table.count })}</span>
          <span class="pill">${t(step.isPickUp ? 'work.pickUp' : 'work.goOn')}</span>
          ${step.part === 'end' ? '' : entryMark('work', { on: 'knot', row: step.partRow, k: step.k })}
        </div>
        <div class="colours" aria-hidden="true">
          <span class="swatch" style="background: ${hexAt(step.knotting)}"></span>
          <span class="quiet">→</span>
          <span class="swatch" style="background: ${hexAt(step.carrier)}"></span>
        </div>
        <p class="said" role="status">${describeStep(step, board, { view: place.view, length: place.isLong ? 'long' : 'short', words: stepWords() })}</p>
        <div class="actions">
          <button class="previous" ?disabled=${index === 0} @click=${() => this.#go(index - 1)}>${t('work.previous')}</button>
          <button class="next primary" ?disabled=${isLast} @click=${() => this.#go(index + 1)}>${t('work.next')}</button>
        </div>
        <p class="small good" role="status">${isLast ? t('work.done') : ''}</p>
      </div>
      <p class="small quiet" id="keys">${t('work.keys')}</p>
      <p class="small">
        ${t('work.summary', { knots: formatNumber(table.count, 0), pickUps: formatNumber(table.pickUps, 0) })}
        ${this.#sayBound(table)}
      </p>
    `;
  }

  #sayBound({ exact, lowerBound }: StepTable): string {
    const beginsSo = this.place.method !== 'rows' && this.#rowsFirst() > 0;
    if (exact) return t(beginsSo ? 'work.provenSo' : 'work.proven');
    return t(beginsSo ? 'work.boundSo' : 'work.bound', { bound: formatNumber(lowerBound, 0) });
  }

  /** Goes to the first step that ties a knot of the pattern; stays where there is none. O(steps). */
  #showKnot({ row, k }: { readonly row: number; readonly k: number }): void {
    const table = this.#table();
    if (table === null) return;
    for (let index = 0; index < table.count; index++) {
      const step = stepAt(table, index);
      if (step.part === 'end' || step.partRow !== row || step.k !== k) continue;
      this.#go(index);
      return;
    }
  }

  #table(): StepTable | null {
    const { state } = this.#job;
    return state.kind === 'found' && state.answer.ok ? state.answer.value : null;
  }

  #step(): WorkStep | null {
    const table = this.#table();
    return table === null || table.count === 0
      ? null
      : stepAt(table, Math.min(this.place.step, table.count - 1));
  }

  #go(step: number): void {
    const table = this.#table();
    if (table === null) return;
    this.place.goTo(step, table, this.design);
    this.#lightStep();
    this.requestUpdate();
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    const { place } = this;
    const table = this.#table();
    if (table === null) return;
    const isRightToLeft = getComputedStyle(this).direction === 'rtl';
    const targets: Readonly<Record<string, number>> = {
      ArrowRight: place.step + (isRightToLeft ? -1 : 1),
      ArrowLeft: place.step + (isRightToLeft ? 1 : -1),
      ArrowDown: place.step + 1,
      ArrowUp: place.step - 1,
      Home: 0,
      End: table.count - 1,
    };
    const target = targets[event.key];
    if (target === undefined) return;
    event.preventDefault();
    this.#go(target);
  };

  #look(): void {
    const { board, place } = this;
    const { method, covers, firstHalf } = place;
    const rowsFirst = this.#rowsFirst();
    const job = { kind: 'work-order', board, method, covers, rowsFirst, firstHalf } as const;
    const { rows, colours } = board.pattern;
    // The search for the fewest may take seconds even for a small band.
    if (method !== 'exact' && covers === 'pattern' && rows * (colours.length >> 1) <= MOST_KNOTS_HERE)
      this.#job.settle(runWorkOrder(job));
    else this.#job.start(job, this.#table() === null);
  }
}
