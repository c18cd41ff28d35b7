/** Closing a keychain: the end rows, what closes the ends, trimming, cautions. */
import { css, html, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { Design } from '../../engine/document/index.ts';
import { type CutList, isHung } from '../../engine/index.ts';
import { fetchMeanwhile } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { formatCut, readUnit } from '../units/index.ts';
import { headLengths } from '../words/index.ts';
import { type FinishTask, finishTasks } from './finish-tasks.ts';
import { stageStyles, TableStage } from './stage.ts';

const CAUTIONS = ['children', 'neck', 'nickel', 'hands', 'local'] as const;

@spoken
export class LbTableFinish extends TableStage {
  static override styles = [
    controls,
    stageStyles,
    css`
      label {
        display: grid;
        grid-template-columns: 32px minmax(0, 1fr);
        gap: var(--lb-space-2);
        align-items: center;
        min-height: 48px;
      }
      input {
        width: 24px;
        height: 24px;
        min-height: 0;
        margin: 0;
        accent-color: var(--lb-accent);
      }
      ul {
        margin: var(--lb-space-1) 0 0;
        padding-inline-start: 1.2em;
      }
    `,
  ];

  /** Of the board begun; null while it is not known. */
  @property({ attribute: false }) list: CutList | null = null;
  /** What the measured gauge is taken over into; null for who may only look. */
  @property({ attribute: false }) design: Design | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    void fetchMeanwhile('table-aid');
  }

  get #tasks(): readonly FinishTask[] {
    return finishTasks(this.board.piece);
  }

  /** Ticks the first that is not done. */
  override on(): void {
    const next = this.#tasks.find(({ name }) => !this.keychain.finished.includes(name));
    if (next !== undefined) this.change({ finished: [...this.keychain.finished, next.name] });
  }

  override back(): void {
    this.change({ finished: this.keychain.finished.slice(0, -1) });
  }

  protected override render(): TemplateResult {
    const { finished } = this.keychain;
    const isDone = this.#tasks.every(({ name }) => finished.includes(name));
    return html`
      <p class="said" role="status">${t(!isDone ? 'table.finish.heading' : isHung(this.board.piece) ? 'table.finish.done' : 'begin.finish.done')}</p>
      <div class="grows">
        ${
          this.list === null || finished.includes('trim')
            ? ''
            : html`<lb-table-measure .keychain=${this.keychain} .begun=${this.board} .list=${this.list} .design=${this.design}></lb-table-measure>`
        }
        ${this.#tasks.map(
          (task) =>
            html`<label><input type="checkbox" .checked=${finished.includes(task.name)} @change=${() => this.#toggle(task.name)} /><span>${this.#say(task)}</span></label>`,
        )}
        <h2>${t('caution.heading')}</h2>
        <ul class="small">
          ${CAUTIONS.map((name) => html`<li>${t(`caution.${name}`)}</li>`)}
          <li>${t('cut.caution')}</li>
        </ul>
      </div>
    `;
  }

  #say(task: FinishTask): string {
    switch (task.name) {
      case 'rows':
        return t('table.finish.rows');
      case 'close':
        return t(`table.finish.${task.knot}`);
      case 'head':
        return t(`begin.finish.${task.knot}`);
      case 'trim':
        return this.#sayTrim(formatCut(task.leftMm, readUnit()));
    }
  }

  /** Loose cords are trimmed on both sides. */
  #sayTrim(length: string): string {
    const { begin } = this.board.piece;
    return begin === 'loose' || begin === 'stick'
      ? t('begin.finish.trim', { length, head: headLengths(this.board, readUnit()).head })
      : t('table.finish.trim', { length });
  }

  #toggle(name: string): void {
    const { finished } = this.keychain;
    this.change({
      finished: finished.includes(name) ? finished.filter((one) => one !== name) : [...finished, name],
    });
  }
}
