/** Closing a keychain: the end rows, what closes the ends, trimming, cautions. */
import { css, html, type TemplateResult } from 'lit';
import { TAIL_MM } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { formatCut, readUnit } from '../units/index.ts';
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

  /** What is to be done, by name, with how it is said. Rule N14. */
  get #tasks(): readonly (readonly [name: string, said: string])[] {
    const { end = 'straight', endKnot = 'overhand', tailMm = TAIL_MM[endKnot] } = this.board.piece;
    return [
      ...(end === 'straight' ? [] : [['rows', t('table.finish.rows')] as const]),
      ['close', t(`table.finish.${endKnot}`)],
      ['trim', t('table.finish.trim', { length: formatCut(tailMm, readUnit()) })],
    ];
  }

  /** Ticks the first that is not done. */
  override on(): void {
    const next = this.#tasks.find(([name]) => !this.keychain.finished.includes(name));
    if (next !== undefined) this.change({ finished: [...this.keychain.finished, next[0]] });
  }

  override back(): void {
    this.change({ finished: this.keychain.finished.slice(0, -1) });
  }

  protected override render(): TemplateResult {
    const { finished } = this.keychain;
    const isDone = this.#tasks.every(([name]) => finished.includes(name));
    return html`
      <p class="said" role="status">${t(isDone ? 'table.finish.done' : 'table.finish.heading')}</p>
      <div class="grows">
        ${this.#tasks.map(
          ([name, said]) =>
            html`<label><input type="checkbox" .checked=${finished.includes(name)} @change=${() => this.#toggle(name)} /><span>${said}</span></label>`,
        )}
        <h2>${t('caution.heading')}</h2>
        <ul class="small">
          ${CAUTIONS.map((name) => html`<li>${t(`caution.${name}`)}</li>`)}
          <li>${t('cut.caution')}</li>
        </ul>
      </div>
    `;
  }

  #toggle(name: string): void {
    const { finished } = this.keychain;
    this.change({
      finished: finished.includes(name) ? finished.filter((one) => one !== name) : [...finished, name],
    });
  }
}
