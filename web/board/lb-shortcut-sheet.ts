/**
 * The keys of the board on one sheet.
 *
 * @fires lb-close It was closed.
 */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { query } from 'lit/decorators.js';
import { icon } from '../icons/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, type TextKey, t } from '../text/index.ts';
import { ACTION_GROUPS } from './board-action.ts';
import { BOARD_ACTIONS } from './board-actions.ts';
import { sheetStyles } from './sheet.styles.ts';

const MOVES: readonly (readonly [TextKey, string])[] = [
  ['board.keys.move', '← → ↑ ↓'],
  ['board.keys.ends', 'Home, End'],
  ['board.keys.corners', 'Ctrl+Home, Ctrl+End'],
  ['board.keys.page', 'PageUp, PageDown'],
  ['board.keys.extend', 'Shift+← → ↑ ↓'],
  ['board.keys.press', 'Enter'],
  ['board.keys.pan', 'Space'],
];

@spoken
export class LbShortcutSheet extends LitElement {
  static override styles = [
    controls,
    sheetStyles,
    css`
      .columns {
        columns: 2 230px;
        column-gap: var(--lb-space-5);
        padding: var(--lb-space-3) var(--lb-space-4) var(--lb-space-4);
      }
      section {
        break-inside: avoid;
        margin-block-end: var(--lb-space-4);
      }
      h3 {
        font-size: var(--lb-size-small);
        color: var(--lb-text-quiet);
        font-weight: 600;
        margin-block-end: var(--lb-space-1);
      }
      dl {
        display: grid;
        gap: 4px;
        margin: 0;
      }
      dl div {
        display: flex;
        align-items: baseline;
        justify-content: space-between;
        gap: var(--lb-space-2);
        font-size: var(--lb-size-small);
      }
      dd {
        margin: 0;
        text-align: end;
        flex: none;
      }
    `,
  ];

  @query('dialog') private dialog!: HTMLDialogElement;

  protected override firstUpdated(): void {
    this.dialog.showModal();
  }

  protected override render(): TemplateResult {
    const line = (key: TextKey, keys: readonly string[]): TemplateResult =>
      html`<div><dt>${t(key)}</dt><dd>${keys.map((one) => html`<kbd>${one}</kbd> `)}</dd></div>`;
    return html`<dialog aria-labelledby="heading" @close=${() => this.dispatchEvent(new Event('lb-close'))}>
      <header>
        <h2 id="heading">${t('board.act.shortcuts')}</h2>
        <button class="tool" aria-label=${t('board.close')} @click=${() => this.dialog.close()}>${icon('close')}</button>
      </header>
      <div class="columns" tabindex="0">
        <section><dl>${MOVES.map(([key, keys]) => line(key, [keys]))}</dl></section>
        ${ACTION_GROUPS.map((group) => {
          const actions = BOARD_ACTIONS.filter(
            (action) => action.group === group && action.keys !== undefined,
          );
          return html`<section><h3>${t(`board.group.${group}`)}</h3><dl>${actions.map(({ key, keys }) => line(key, keys ?? []))}</dl></section>`;
        })}
      </div>
    </dialog>`;
  }
}
