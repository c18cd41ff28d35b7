/** Ways out of an order that does not mount neatly, each with its price and one button that takes it. */
import { css, html, type TemplateResult } from 'lit';
import { applyWayOut, type Board, type Recolouring, type WayOut, type WaysOut } from '../../engine/index.ts';
import { fetchMeanwhile } from '../parts/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { BackgroundJob, type RecolourJob, type WaysOutJob } from '../worker/index.ts';
import { Panel } from './panel.ts';
import { patternChange } from './pattern-change.ts';

export class LbWaysOut extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      .way {
        grid-template-columns: minmax(0, 1fr) auto;
        align-items: center;
      }
      .way > span {
        display: grid;
      }
      lb-outcome {
        grid-column: 1 / -1;
      }
      .proof {
        grid-column: 1 / -1;
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--lb-space-2);
      }
    `,
  ];

  readonly #job = new BackgroundJob<WaysOutJob>(this, () => this.#onWays());
  /** Works on the proof of the first recolouring that is not proven. */
  readonly #proof = new BackgroundJob<RecolourJob>(this);
  #provenFor: unknown = null;

  override connectedCallback(): void {
    super.connectedCallback();
    void fetchMeanwhile('outcome');
  }

  protected override onBoard(before: Board | null): void {
    if (before?.pattern !== this.board.pattern || before.palette !== this.board.palette) this.#look();
  }

  /** What looking longer has made of a recolouring. */
  #recolouringOf(way: WayOut & { readonly kind: 'recolour' }): Recolouring {
    if (this.#provenFor !== way) return way.recolouring;
    const { state } = this.#proof;
    const later = state.kind === 'looking' ? state.best : state.kind === 'found' ? state.answer : null;
    return later === null || later.changes.length > way.recolouring.changes.length ? way.recolouring : later;
  }

  /** Once the ways are known, the first recolouring that is not proven is worked on. */
  #onWays(): void {
    const { state } = this.#job;
    if (state.kind !== 'found') {
      if (this.#provenFor !== null) this.#proof.cancel();
      this.#provenFor = null;
      return;
    }
    if (this.#provenFor !== null) return;
    const way = state.answer.ways.find((one) => one.kind === 'recolour' && !one.recolouring.exact);
    if (way?.kind !== 'recolour') return;
    this.#provenFor = way;
    const { pattern, palette } = this.board;
    this.#proof.start(
      { kind: 'recolour', colours: pattern.colours, palette: palette.map(({ id }) => id), singles: way.rule },
      true,
    );
  }

  protected override render(): TemplateResult {
    return html`
      <h3>${t('ways.heading')}</h3>
      <p class="quiet small">${t('ways.lead')}</p>
      ${this.#renderState()}
    `;
  }

  #renderState(): TemplateResult {
    const { state } = this.#job;
    switch (state.kind) {
      case 'idle':
        return html`<div class="actions"><button @click=${() => this.#look()}>${t('app.again')}</button></div>`;
      case 'looking':
        return html`<label class="small">${t('ways.looking', { percent: Math.floor(state.share * 100) })}<progress max="1" .value=${state.share}></progress></label>
          <div class="actions"><button @click=${() => this.#job.stop()}>${t(state.best === null ? 'ways.cancel' : 'ways.stop')}</button></div>
          ${state.best === null ? '' : this.#renderWays(state.best)}`;
      case 'failed':
        return html`<p class="warn" role="alert">${t('panels.range', { why: state.why })}</p>`;
      case 'found':
        return this.#renderWays(state.answer);
    }
  }

  /** All ways, or those known so far. */
  #renderWays({ ways, plan }: WaysOut): TemplateResult {
    const possible = ways.filter((way) => this.#isPossible(way));
    return html`<ul>${possible.map((way) => this.#renderWay(way, plan.crossings.length))}</ul>`;
  }

  /** A band with a lead-in of its own begins where it begins. */
  #isPossible(way: WayOut): boolean {
    return way.kind !== 'start' || (this.board.piece.leadInRows ?? 0) === 0;
  }

  #renderWay(way: WayOut, now: number): TemplateResult {
    const [title, price] = this.#tell(way, now);
    const isEdit = way.kind !== 'accept';
    const strings = stringsOf(way);
    const light = (): void => this.light(strings.length === 0 ? null : { strings });
    const dark = (): void => this.light(null);
    return html`<li class="card way" data-way=${way.kind} data-strings=${strings.join(' ')} @pointerenter=${light} @pointerleave=${dark} @focusin=${light} @focusout=${dark}>
      <span><b>${title}</b><span class="small quiet">${price}</span></span>
      ${isEdit ? html`<button aria-label="${t('ways.apply')}: ${title}" ?disabled=${!this.canEdit} @click=${() => this.#apply(way)}>${t('ways.apply')}</button>` : ''}
      ${isEdit ? this.#renderOutcome(way) : ''}
      ${way.kind === 'recolour' ? this.#renderProof(way) : ''}
    </li>`;
  }

  #renderOutcome(way: WayOut): TemplateResult {
    const told = way.kind === 'recolour' ? this.#recolouringOf(way) : way;
    return html`<lb-outcome .board=${this.board} .way=${[told]} .make=${(board: Board) => this.#after(board, way)} .isSameBand=${way.kind === 'start'}></lb-outcome>`;
  }

  /** The board once the way is taken. */
  #after(board: Board, way: WayOut): Board {
    if (way.kind === 'singles') return { ...board, piece: { ...board.piece, singles: 'free' } };
    const recolouring = way.kind === 'recolour' ? { ...way, recolouring: this.#recolouringOf(way) } : way;
    const { pattern, leadInRows } = applyWayOut(board.pattern, recolouring);
    const piece =
      leadInRows === 0
        ? board.piece
        : { ...board.piece, leadInRows: (board.piece.leadInRows ?? 0) + leadInRows };
    return { ...board, pattern, piece };
  }

  /** Name and price. */
  #tell(way: WayOut, now: number): readonly [string, string] {
    switch (way.kind) {
      case 'start': {
        const { row, reversed, mirrored, plan } = way.start;
        const turned = `${reversed ? t('ways.turned') : ''}${mirrored ? t('ways.mirrored') : ''}`;
        const values = { row: row + 1, turned, crossings: plan.crossings.length, now };
        const foot = rowsAtFoot(this.board, way.start);
        if (foot > 0) return [t('ways.startRow', values), t('ways.startFoot', { ...values, count: foot })];
        return [t('ways.start'), t(plan.neat ? 'ways.startPrice' : 'ways.startBetter', values)];
      }
      case 'lead-in': {
        const { rows, pattern, lowerBound, exact } = way.leadIn;
        const knots = pattern.knots.reduce((sum, knot) => sum + (knot === 0 ? 0 : 1), 0);
        const unproven = 2 * lowerBound < rows ? 'ways.noShorter' : 'ways.atLeast';
        const sure = t(exact ? 'ways.proven' : unproven, { count: lowerBound });
        return [t('ways.leadIn'), `${t('ways.leadInPrice', { rows, knots })} (${sure})`];
      }
      case 'recolour': {
        const recolouring = this.#recolouringOf(way);
        const changes = recolouring.changes
          .map(({ place, colour }) =>
            t('ways.recolourChange', { place: place + 1, colour: this.nameOf(colour) }),
          )
          .join(', ');
        const singles =
          way.furtherSingles === 0 ? '' : t('ways.recolourSingles', { count: way.furtherSingles });
        const count = recolouring.changes.length;
        const sure = recolouring.exact
          ? t('ways.proven')
          : t('ways.atMost', { count: count - recolouring.lowerBound });
        return [t('ways.recolour'), `${t('ways.recolourPrice', { count, changes, singles })} (${sure})`];
      }
      case 'singles':
        return [t('ways.singles'), t('ways.singlesPrice', { count: way.furtherSingles })];
      case 'accept': {
        const colours = way.shown.map(({ colour }) => this.nameOf(colour)).join(', ');
        return [t('ways.accept'), t('ways.acceptPrice', { count: way.crossings, colours })];
      }
    }
  }

  #renderProof(way: WayOut): TemplateResult | '' {
    const { state } = this.#proof;
    if (this.#provenFor !== way) return '';
    if (state.kind === 'failed')
      return html`<p class="warn small" role="alert">${t('panels.range', { why: state.why })}</p>`;
    if (state.kind !== 'looking') return '';
    return html`<div class="proof">
      <label class="small">${t('ways.proving')}<progress max="1" .value=${state.share}></progress></label>
      <button @click=${() => this.#proof.stop()}>${t('ways.stop')}</button>
    </div>`;
  }

  #apply(way: WayOut): void {
    if (way.kind === 'singles') {
      this.run({ kind: 'set-piece', patch: { singles: 'free' } });
      return;
    }
    const { pattern, piece } = this.#after(this.board, way);
    const { leadInRows } = piece;
    this.run(
      ...patternChange(this.board.pattern, pattern),
      ...(leadInRows === undefined || leadInRows === this.board.piece.leadInRows
        ? []
        : [{ kind: 'set-piece', patch: { leadInRows } } as const]),
    );
  }

  #look(): void {
    const { pattern, palette } = this.board;
    this.#job.start({ kind: 'ways-out', pattern, palette: palette.map(({ id }) => id) });
  }
}

/** Of a band that is worked once: rows that are no longer where they were, since the band begins below them; 0 of one that goes on and on. */
function rowsAtFoot(
  { pattern: { rows }, piece }: Board,
  { row, reversed }: (WayOut & { readonly kind: 'start' })['start'],
): number {
  if ((piece.repeats ?? 1) > 1 || piece.lengthMm !== undefined) return 0;
  return reversed ? rows - 1 - row : row;
}

/** Places at the top that a way out changes or leaves as they are to be seen; none where all stand elsewhere. */
function stringsOf(way: WayOut): readonly number[] {
  switch (way.kind) {
    case 'start':
    case 'lead-in':
      return [];
    case 'recolour':
      return way.recolouring.changes.map(({ place }) => place);
    case 'singles':
      return way.plan.singles;
    case 'accept':
      return way.plan.faults.flatMap(({ folds }) =>
        folds.flatMap((fold) => [way.plan.folds[fold]!.left, way.plan.folds[fold]!.right]),
      );
  }
}
