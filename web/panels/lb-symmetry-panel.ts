/** What of the board reads the same from both sides, what breaks it, and the repair. */
import { css, html, type TemplateResult } from 'lit';
import type { EntryPlace } from '../../engine/document/index.ts';
import {
  type Board,
  type FriezeSymmetries,
  type NearSymmetry,
  type Pattern,
  repairMirror,
  repairSymmetry,
  stayingRows,
  type Symmetry,
  type SymmetryBreak,
  symmetry,
} from '../../engine/index.ts';
import type { Lit } from '../board/index.ts';
import { fetchMeanwhile } from '../parts/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { BackgroundJob, type SymmetriesJob } from '../worker/index.ts';
import { entryMark } from './entry-mark.ts';
import { Panel } from './panel.ts';
import { patternChange } from './pattern-change.ts';

export { LbRepeatPanel } from './lb-repeat-panel.ts';

/** Breaks named one by one; the rest are counted. */
const MOST_SHOWN = 12;
/** Boards of more knots are looked at in the worker alone; until it answers, what it last said stands. */
const MOST_KNOTS_HERE = 3000;

export class LbSymmetryPanel extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      .break {
        display: flex;
        gap: var(--lb-space-2);
        align-items: center;
        justify-content: space-between;
      }
      li[tabindex] {
        padding: var(--lb-space-1) var(--lb-space-2);
        border-radius: var(--lb-radius-small);
      }
      .near {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: var(--lb-space-2);
        align-items: center;
      }
      .near lb-outcome {
        grid-column: 1 / -1;
      }
      .keep {
        grid-column: 1 / -1;
        margin: 0;
      }
      .sides {
        grid-template-columns: minmax(7em, auto) minmax(0, 1fr);
      }
      li[tabindex]:hover,
      li:focus-visible {
        background: var(--lb-sunken);
      }
    `,
  ];

  readonly #job = new BackgroundJob<SymmetriesJob>(this);
  #last: Symmetry | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    void fetchMeanwhile('outcome');
  }

  protected override onBoard(before: Board | null): void {
    const { pattern } = this.board;
    if (before?.pattern === pattern) return;
    if (pattern.rows * (pattern.colours.length >> 1) <= MOST_KNOTS_HERE) this.#last = symmetry(pattern);
    this.#look();
  }

  protected override willUpdate(): void {
    const { state } = this.#job;
    if (state.kind === 'found') this.#last = state.answer.found;
  }

  protected override render(): TemplateResult {
    return html`
      <h2>${t('panels.symmetry')}</h2>
      <p class="quiet">${t('sym.purpose')}</p>
      ${this.#last === null ? this.#renderNear() : this.#renderFound(this.#last)}
    `;
  }

  #renderFound(found: Symmetry): TemplateResult {
    const { mirror, band, frieze, breaks } = found;
    const isOdd = this.board.pattern.colours.length % 2 === 1;
    return html`
      <section class="card" aria-labelledby="mirror">
        <h3 id="mirror">${t('sym.mirror')}</h3>
        <dl class="sides">
          ${(['order', 'knots', 'picture'] as const).map(
            (of) =>
              html`<dt>${t(`sym.${of}`)}</dt><dd class=${mirror[of] ? 'good' : ''}>${t(mirror[of] ? 'sym.yes' : 'sym.no')}</dd>`,
          )}
        </dl>
        ${isOdd ? html`<p class="small">${t('sym.odd')}</p>` : this.#renderRepair(found)}
      </section>
      <section class="card" aria-labelledby="band">
        <h3 id="band">${t('sym.band')}</h3>
        ${band === null || frieze === null ? html`<p>${t('sym.tooLong')}</p>` : this.#renderBand(band, frieze)}
      </section>
      ${this.#renderNear()}
      ${breaks.length === 0 || isOdd ? '' : this.#renderBreaks(breaks)}
    `;
  }

  #renderBand(band: FriezeSymmetries, frieze: string): TemplateResult {
    return html`<dl>
        ${(['leftRight', 'glide', 'upsideDown', 'halfTurn'] as const).map(
          (kind) =>
            html`<dt>${t(`sym.${kind}`)}</dt><dd class=${band[kind] ? 'good' : ''}>${t(band[kind] ? 'sym.has' : 'sym.hasNot')}</dd>`,
        )}
      </dl>
      <details class="small quiet"><summary>${t('board.more')}</summary><p>${t('sym.friezeName', { frieze })}</p></details>`;
  }

  #renderRepair({ mirror }: Symmetry): TemplateResult | '' {
    if (mirror.order && mirror.knots && mirror.picture) return '';
    return html`<div class="actions">
        <button class="repair-left" ?disabled=${!this.canEdit} @click=${() => this.#run(repairMirror(this.board.pattern, 'left'))}>${t('sym.repairLeft')}</button>
        <button class="repair-right" ?disabled=${!this.canEdit} @click=${() => this.#run(repairMirror(this.board.pattern, 'right'))}>${t('sym.repairRight')}</button>
      </div>
      ${this.#renderOutcome(['left'], t('sym.repairLeft'), (pattern) => repairMirror(pattern, 'left'))}
      ${this.#renderOutcome(['right'], t('sym.repairRight'), (pattern) => repairMirror(pattern, 'right'))}
      <p class="small quiet">${t('sym.repairHint')}</p>`;
  }

  /** What a repair makes of the board, before it is done. */
  #renderOutcome(
    way: readonly unknown[],
    label: string,
    make: (pattern: Pattern) => Pattern,
  ): TemplateResult {
    return html`<lb-outcome role="group" aria-label=${label} .label=${label} .board=${this.board} .way=${way} .make=${(board: Board) => ({ ...board, pattern: make(board.pattern) })}></lb-outcome>`;
  }

  #renderNear(): TemplateResult | '' {
    const { state } = this.#job;
    if (state.kind === 'looking') return html`<p class="small quiet" role="status">${t('sym.looking')}</p>`;
    if (state.kind === 'failed')
      return html`<p class="warn" role="alert">${t('panels.range', { why: state.why })}</p>`;
    if (state.kind !== 'found') return '';
    // The mirror has a card of its own, and what is kept is in the list of the band.
    const near = state.answer.near.filter(({ kind, picture }) => kind !== 'mirror' && !picture);
    if (near.length === 0) return '';
    return html`<section class="card" aria-labelledby="near">
      <h3 id="near">${t('sym.near')}</h3>
      <p class="small quiet">${t('sym.nearHint')}</p>
      <ul>${near.map((symmetry) => this.#renderNearOne(symmetry))}</ul>
    </section>`;
  }

  #renderNearOne(near: NearSymmetry): TemplateResult {
    const kind = t(`sym.near.${near.kind}`, { rows: near.rows });
    const light = (): void => this.light({ knots: near.breaks });
    const dark = (): void => this.light(null);
    const { pattern } = this.board;
    const repair = (keep: 'fewest' | 'first' | 'second') => (): void =>
      this.#run(repairSymmetry(pattern, near, keep));
    const { from, to } = stayingRows(pattern.rows, near);
    const first =
      from === to ? t('sym.keepRow', { row: from + 1 }) : t('sym.keepRows', { from: from + 1, to: to + 1 });
    return html`<li class="near" tabindex="0" data-knots=${near.breaks.map(({ row, k }) => `${row}:${k}`).join(' ')} @pointerenter=${light} @pointerleave=${dark} @focus=${light} @blur=${dark}>
      <span>${kind}<br /><span class="small quiet">${t('sym.nearBreaks', { count: near.breaks.length })} ${t('sym.nearChanges', { count: near.changes })}</span></span>
      <button aria-label=${t('sym.repairNamed', { kind })} ?disabled=${!this.canEdit} @click=${repair('fewest')}>${t('sym.repair')}</button>
      ${this.#renderOutcome([near, 'fewest'], t('sym.repair'), (pattern) => repairSymmetry(pattern, near, 'fewest'))}
      ${this.#renderOutcome([near, 'first'], first, (pattern) => repairSymmetry(pattern, near, 'first'))}
      ${near.kind === 'glide' ? '' : this.#renderOutcome([near, 'second'], t('sym.keepOthers'), (pattern) => repairSymmetry(pattern, near, 'second'))}
      <div class="actions keep">
        <button class="keep-first" aria-label=${`${first}: ${kind}`} ?disabled=${!this.canEdit} @click=${repair('first')}>${first}</button>
        ${
          near.kind === 'glide'
            ? ''
            : html`<button class="keep-second" aria-label=${`${t('sym.keepOthers')}: ${kind}`} ?disabled=${!this.canEdit} @click=${repair('second')}>${t('sym.keepOthers')}</button>`
        }
      </div>
    </li>`;
  }

  #renderBreaks(breaks: readonly SymmetryBreak[]): TemplateResult {
    const rest = breaks.length - MOST_SHOWN;
    return html`<h3>${t('sym.breaks', { count: breaks.length })}</h3>
      <ul class="small">
        ${breaks.slice(0, MOST_SHOWN).map((found) => this.#renderBreak(found))}
        ${rest > 0 ? html`<li class="quiet">${t('sym.more', { count: rest })}</li>` : ''}
      </ul>`;
  }

  #renderBreak(found: SymmetryBreak): TemplateResult {
    const { pattern } = this.board;
    const strings = pattern.colours.length;
    const light = (): void => this.light(litOf(found, pattern));
    const dark = (): void => this.light(null);
    const { strings: places = [], knots = [] } = litOf(found, pattern);
    return html`<li class="break" tabindex="0" data-strings=${places.join(' ')} data-knots=${knots.map(({ row, k }) => `${row}:${k}`).join(' ')} @pointerenter=${light} @pointerleave=${dark} @focus=${light} @blur=${dark}><span>${
      found.of === 'order'
        ? t('sym.breakOrder', {
            left: found.place + 1,
            right: strings - found.place,
            first: this.nameOf(pattern.colours[found.place]!),
            second: this.nameOf(pattern.colours[strings - 1 - found.place]!),
          })
        : t(found.of === 'knots' ? 'sym.breakKnots' : 'sym.breakPicture', {
            row: found.row + 1,
            k: found.k + 1,
          })
    }</span>${entryMark('symmetry', placeOf(found, strings))}</li>`;
  }

  #run(after: Pattern): void {
    this.run(...patternChange(this.board.pattern, after));
  }

  #look(): void {
    this.#job.start({ kind: 'symmetries', pattern: this.board.pattern });
  }
}

/** By what a break is talked about. */
function placeOf(found: SymmetryBreak, strings: number): EntryPlace {
  return found.of === 'order'
    ? { on: 'strings', left: found.place, right: strings - 1 - found.place }
    : { on: 'knot', row: found.row, k: found.k };
}

/** The place that breaks the mirror, and its counterpart on the other side. */
function litOf(found: SymmetryBreak, pattern: Pattern): Lit {
  const strings = pattern.colours.length;
  if (found.of === 'order') return { strings: [found.place, strings - 1 - found.place] };
  const count = (strings - ((pattern.start + found.row) & 1)) >> 1;
  return {
    knots: [
      { row: found.row, k: found.k },
      { row: found.row, k: count - 1 - found.k },
    ],
  };
}
