/**
 * Two states of a board beside each other: both pictures with what differs marked, the differences in words, and what
 * either comes to at the table.
 *
 * @fires lb-choose A box of the list was ticked or cleared; only where `chosen` is given.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { live } from 'lit/directives/live.js';
import { type Change, compareDesigns, type KeyedDesign } from '../../engine/document/index.ts';
import { showIcon } from '../icons/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { BackgroundJob, type ConsequencesJob } from '../worker/index.ts';
import { ChooseEvent } from './choose-event.ts';
import { compareStyles } from './compare.styles.ts';
import { consequenceRows } from './consequence-rows.ts';
import { DIFFERENCE_GROUPS, type Difference, differencesOf, type RowSpan } from './differences.ts';
import type { LbComparePicture } from './lb-compare-picture.ts';
import { askedMarks, type Marks, marksOf } from './marks.ts';

export { LbComparePicture } from './lb-compare-picture.ts';

/** Differences of a group shown before somebody asks for all. */
const FIRST_SHOWN = 40;
/** Rows above the one that is pointed out. */
const ROOM_ROWS = 3;

@spoken
export class LbCompare extends LitElement {
  static override styles = [controls, compareStyles];

  @property({ attribute: false }) first: KeyedDesign | null = null;
  @property({ attribute: false }) second: KeyedDesign | null = null;
  /** What the two are called. */
  @property({ attribute: false }) captions: readonly [string, string] = ['', ''];
  /** What leads from the one to the other; found out when not given. */
  @property({ attribute: false }) changes: readonly Change[] | null = null;
  /** Where the changes are read off, when not in `second`: pictures may show only a part of them applied. */
  @property({ attribute: false }) source: KeyedDesign | null = null;
  /** What both sides changed, marked in the pictures as questions. */
  @property({ attribute: false }) asked: readonly Change[] = [];
  /** Keys of the changes that are ticked; null = the list has no boxes. */
  @property({ attribute: false }) chosen: ReadonlySet<string> | null = null;
  @state() private shownAll: ReadonlySet<string> = new Set();
  @state() private pointed: readonly [RowSpan | null, RowSpan | null] = [null, null];
  @query('.scroll') private scroller!: HTMLElement;
  #marks: readonly [Marks, Marks] | null = null;
  #differences: readonly Difference[] = [];
  readonly #job = new BackgroundJob<ConsequencesJob>(this);

  protected override willUpdate(changed: PropertyValues<this>): void {
    const { first: before, second: after } = this;
    if (before === null || after === null) return;
    if (changed.has('first') || changed.has('second')) {
      this.#job.start({ kind: 'consequences', boards: [before.board, after.board] });
    }
    if (changed.has('first') || changed.has('second') || changed.has('asked'))
      this.#marks = withQuestions(marksOf(before, after, compareDesigns(before, after)), [
        askedMarks(before, this.asked),
        askedMarks(after, this.asked),
      ]);
    if (changed.has('first') || changed.has('second') || changed.has('changes') || changed.has('source'))
      this.#differences = differencesOf(this.changes ?? compareDesigns(before, after), {
        before,
        after: this.source ?? after,
      });
  }

  protected override render(): TemplateResult {
    const { first: before, second: after } = this;
    if (before === null || after === null) return html``;
    return html`
      <section class="pictures" aria-label=${t('diff.pictures')}>
        <div class="captions">${this.captions.map((caption) => html`<h3>${caption}</h3>`)}</div>
        <div class="scroll" tabindex="0" role="group" aria-label=${t('diff.scroll')} @scroll=${this.#onScroll}>
          <div class="two">
            ${[before, after].map(
              ({ board }, side) => html`<lb-compare-picture
                .board=${board}
                .marks=${this.#marks?.[side] ?? null}
                .pointed=${this.pointed[side] ?? null}
                .scroller=${this.scroller}
                caption=${this.captions[side] ?? ''}
              ></lb-compare-picture>`,
            )}
          </div>
        </div>
        <ul class="legend small quiet">
          <li><span class="ring" aria-hidden="true"></span>${t('diff.legend.ring')}</li>
          <li><span class="dot" aria-hidden="true"></span>${t('diff.legend.dot')}</li>
          <li><span class="bar" aria-hidden="true"></span>${t('diff.legend.bar')}</li>
          ${this.asked.length === 0 ? '' : html`<li><span class="asked" aria-hidden="true">?</span>${t('diff.legend.asked')}</li>`}
        </ul>
      </section>
      <section class="list" aria-labelledby="differences">
        <h3 id="differences">${t('diff.heading')}</h3>
        ${this.#differences.length === 0 ? html`<p class="quiet">${t('diff.none')}</p>` : ''}
        ${DIFFERENCE_GROUPS.map((group) => this.#renderGroup(group))}
        <slot></slot>
      </section>
      <section class="after" aria-labelledby="consequences">
        <h3 id="consequences">${t('after.heading')}</h3>
        ${this.#renderConsequences(before, after)}
      </section>
    `;
  }

  protected override firstUpdated(): void {
    // The pictures draw what the box around them shows, which is there only now.
    this.requestUpdate();
  }

  #renderGroup(group: (typeof DIFFERENCE_GROUPS)[number]): TemplateResult | '' {
    const differences = this.#differences.filter((difference) => difference.group === group);
    if (differences.length === 0) return '';
    const shown = this.shownAll.has(group) ? differences : differences.slice(0, FIRST_SHOWN);
    const left = differences.length - shown.length;
    return html`<h4>${t(`diff.group.${group}`)}</h4>
      <ul class="differences">${shown.map((difference) => this.#renderDifference(difference))}</ul>
      ${
        left === 0
          ? ''
          : html`<button
            @click=${() => {
              this.shownAll = new Set(this.shownAll).add(group);
            }}
          >${t('diff.more', { count: left })}</button>`
      }`;
  }

  #renderDifference(difference: Difference): TemplateResult {
    const { chosen } = this;
    const swatches = difference.hexes.map(
      (hex) => html`<span class="swatch" style="background: ${hex}"></span>`,
    );
    const isPlaced = difference.rows.some((span) => span !== null);
    const text = html`<span>${swatches} ${difference.text}</span>`;
    const words =
      chosen === null
        ? text
        : html`<label>
            <input
              type="checkbox"
              .checked=${live(difference.keys.every((key) => chosen.has(key)))}
              @change=${(event: Event) =>
                this.dispatchEvent(
                  new ChooseEvent(difference.keys, (event.target as HTMLInputElement).checked),
                )}
            />
            ${text}
          </label>`;
    return html`<li>
      ${words}
      ${
        isPlaced
          ? html`<button class="show" aria-label=${t('diff.show', { what: difference.text })} title=${t('diff.show', { what: difference.text })} @click=${() => this.show(difference.rows)}>
            ${showIcon()}
          </button>`
          : ''
      }
    </li>`;
  }

  #renderConsequences(before: KeyedDesign, after: KeyedDesign): TemplateResult {
    const { state: job } = this.#job;
    if (job.kind === 'failed')
      return html`<p class="warn" role="alert">${t('after.failed', { why: job.why })}</p>`;
    if (job.kind !== 'found') return html`<p class="quiet" role="status">${t('after.looking')}</p>`;
    const [first, second] = job.answer;
    if (first === undefined || second === undefined) return html``;
    const rows = consequenceRows([before.board, first], [after.board, second]);
    const isEstimate = [first, second].some(({ cut }) =>
      cut?.estimates.some((path) => path.startsWith('gauge.')),
    );
    return html`<table>
        <thead>
          <tr>
            <td></td>
            ${this.captions.map((caption) => html`<th scope="col">${caption}</th>`)}
          </tr>
        </thead>
        <tbody>
          ${rows.map(({ label, hex, values: [was, is] }) => {
            const differs = was !== is;
            return html`<tr data-differs=${differs}>
              <th scope="row">${hex === null ? '' : html`<span class="swatch" style="background: ${hex}"></span>`} ${label}</th>
              <td>${was}</td>
              <td>${is} ${differs ? html`<b title=${t('after.differs')}><span aria-hidden="true">◂</span><span class="visually-hidden">${t('after.differs')}</span></b>` : ''}</td>
            </tr>`;
          })}
        </tbody>
      </table>
      ${isEstimate ? html`<p class="small quiet">${t('after.estimate')}</p>` : ''}`;
  }

  #pictures(): readonly LbComparePicture[] {
    return [...this.renderRoot.querySelectorAll<LbComparePicture>('lb-compare-picture')];
  }

  /** Points out rows in the pictures and brings them into sight. */
  show(rows: Difference['rows']): void {
    this.pointed = rows;
    const side = rows[1] === null ? 0 : 1;
    const row = rows[side]?.from ?? 0;
    const top = this.#pictures()[side]?.topOf(Math.max(0, row - ROOM_ROWS)) ?? 0;
    this.scroller.scrollTo({ top: Math.max(0, top - 20) });
    this.scroller.scrollIntoView({ block: 'nearest' });
  }

  readonly #onScroll = (): void => {
    for (const picture of this.#pictures()) picture.redraw();
  };
}

type Both = readonly [Marks, Marks];

/** A question stands in the place of what else would mark it. */
function withQuestions(marks: Both, asked: Both): Both {
  const one = (found: Marks, questions: Marks): Marks => {
    const isAsked = new Set(questions.knots.map(({ row, k }) => `${row} ${k}`));
    return {
      knots: [...found.knots.filter(({ row, k }) => !isAsked.has(`${row} ${k}`)), ...questions.knots],
      rows: [...found.rows, ...questions.rows],
      strings: [...found.strings, ...questions.strings],
    };
  };
  return [one(marks[0], asked[0]), one(marks[1], asked[1])];
}
