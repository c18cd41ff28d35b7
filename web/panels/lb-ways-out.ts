/** Ways out of an order that does not mount neatly, each with its price and one button that takes it. */
import { css, html, type PropertyValues, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { type MountPlan, planMount } from '../../engine/index.ts';
import { controls } from '../styles/controls.ts';
import { t } from '../text/index.ts';
import type { WaysOutAnswer } from '../worker/jobs.ts';
import { type RunningJob, startJob } from '../worker/start-job.ts';
import { recolourings } from './mirror-repair.ts';
import { panelStyles } from './panel.styles.ts';
import { Panel } from './panel.ts';

type Found =
  | { readonly kind: 'looking'; readonly share: number }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'found'; readonly ways: WaysOutAnswer }
  | { readonly kind: 'failed'; readonly why: string };

/** An edit is waited out before the search begins anew. */
const WAIT_MS = 400;

interface Way {
  readonly id: string;
  readonly title: string;
  readonly price: string;
  /** Null for what needs nothing done. */
  readonly apply: (() => void) | null;
}

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
      progress {
        width: 100%;
        accent-color: var(--lb-accent);
      }
    `,
  ];

  @state() private found: Found = { kind: 'looking', share: 0 };
  #job: RunningJob<WaysOutAnswer> | null = null;
  #wait: ReturnType<typeof setTimeout> | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.#look();
  }

  override disconnectedCallback(): void {
    this.#stop();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    const before = changed.get('board');
    const { board } = this;
    const isSame = before?.pattern === board.pattern && before.piece.leadInRows === board.piece.leadInRows;
    if (changed.has('board') && !isSame) this.#look();
  }

  protected override render(): TemplateResult {
    return html`
      <h3>${t('ways.heading')}</h3>
      <p class="quiet small">${t('ways.lead')}</p>
      ${this.#renderFound()}
    `;
  }

  #renderFound(): TemplateResult {
    const { found } = this;
    switch (found.kind) {
      case 'looking':
        return html`<label>${t('ways.looking', { percent: Math.floor(found.share * 100) })}<progress max="1" .value=${found.share}></progress></label>
          <div class="actions"><button @click=${() => {
            this.#stop();
            this.found = { kind: 'stopped' };
          }}>${t('ways.cancel')}</button></div>`;
      case 'stopped':
        return html`<div class="actions"><button @click=${() => this.#look()}>${t('panels.retry')}</button></div>`;
      case 'failed':
        return html`<p class="warn" role="alert">${t('panels.range', { why: found.why })}</p>`;
      case 'found':
        return html`<ul>${this.#ways(found.ways, planMount(this.board.pattern.colours)).map((way) => this.#renderWay(way))}</ul>`;
    }
  }

  #renderWay({ id, title, price, apply }: Way): TemplateResult {
    return html`<li class="card way" data-way=${id}>
      <span><b>${title}</b><span class="small quiet">${price}</span></span>
      ${apply === null ? '' : html`<button aria-label="${t('ways.apply')}: ${title}" ?disabled=${!this.canEdit} @click=${apply}>${t('ways.apply')}</button>`}
    </li>`;
  }

  #ways({ start, leadIn, recolour, singles }: WaysOutAnswer, now: MountPlan): readonly Way[] {
    const { pattern, piece } = this.board;
    const ways: Way[] = [];
    if (start !== null) {
      const { row, reversed, mirrored, plan } = start.start;
      const turned = `${reversed ? t('ways.turned') : ''}${mirrored ? t('ways.mirrored') : ''}`;
      const crossings = plan.crossings.length;
      const values = { row: row + 1, turned, crossings, now: now.crossings.length };
      ways.push({
        id: 'start',
        title: t('ways.start'),
        price: t(plan.neat ? 'ways.startPrice' : 'ways.startBetter', values),
        apply: () => this.run({ kind: 'replace-pattern', pattern: start.pattern }),
      });
    }
    if (recolour !== null) {
      const changes = recolour.places.map((place) =>
        t('ways.recolourChange', { place: place + 1, colour: this.nameOf(recolour.colours[place]!) }),
      );
      ways.push({
        id: 'recolour',
        title: t('ways.recolour'),
        price: t('ways.recolourPrice', { count: changes.length, changes: changes.join(', ') }),
        apply: () => this.run(...recolourings(pattern.colours, recolour.colours)),
      });
    }
    if (leadIn !== null)
      ways.push({
        id: 'lead-in',
        title: t('ways.leadIn'),
        price: t('ways.leadInPrice', { rows: leadIn.leadIn.rows, knots: leadIn.knots }),
        apply: () =>
          this.run(
            { kind: 'replace-pattern', pattern: leadIn.pattern },
            { kind: 'set-piece', patch: { leadInRows: (piece.leadInRows ?? 0) + leadIn.leadIn.rows } },
          ),
      });
    if (singles > now.singles.length)
      ways.push({
        id: 'singles',
        title: t('ways.singles'),
        price: t('ways.singlesPrice', { count: singles }),
        apply: null,
      });
    const bars = [...new Set(now.faults.map(({ colour }) => this.nameOf(colour)))].join(', ');
    ways.push({
      id: 'accept',
      title: t('ways.accept'),
      price: t('ways.acceptPrice', { count: now.crossings.length, colours: bars }),
      apply: null,
    });
    return ways;
  }

  #look(): void {
    this.#stop();
    this.found = { kind: 'looking', share: 0 };
    this.#wait = setTimeout(() => this.#start(), WAIT_MS);
  }

  #start(): void {
    const { pattern, piece } = this.board;
    const running = startJob({ kind: 'ways-out', pattern, leadInRows: piece.leadInRows ?? 0 }, (share) => {
      if (this.#job === running) this.found = { kind: 'looking', share };
    });
    this.#job = running;
    running.answer.then(
      (ways) => {
        if (this.#job !== running) return;
        this.#job = null;
        this.found = { kind: 'found', ways };
      },
      (error: unknown) => {
        if (this.#job !== running) return;
        this.#job = null;
        this.found = { kind: 'failed', why: error instanceof Error ? error.message : String(error) };
      },
    );
  }

  #stop(): void {
    clearTimeout(this.#wait);
    this.#job?.cancel();
    this.#job = null;
  }
}
