/**
 * The keys of the board on one sheet, and where they are given others.
 *
 * @fires lb-close It was closed.
 */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { query, state } from 'lit/decorators.js';
import { icon } from '../icons/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, type TextKey, t } from '../text/index.ts';
import { ACTION_GROUPS, type BoardAction } from './board-action.ts';
import { BOARD_ACTIONS } from './board-actions.ts';
import { canBeGiven, given, holderOf, keepOwnKeys, writtenKeys } from './give-key.ts';
import { keysOf, NO_OWN_KEYS, ownKeys } from './own-keys.ts';
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
      .above {
        display: grid;
        gap: var(--lb-space-2);
        padding: var(--lb-space-3) var(--lb-space-4) 0;
      }
      .above label {
        display: flex;
        align-items: center;
        gap: var(--lb-space-2);
      }
      .above input {
        min-height: 20px;
        width: 20px;
      }
      .above p[role='status'] {
        min-height: 1.5em;
        font-weight: 600;
      }
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
      dd button {
        min-height: 26px;
        padding: 0 6px;
        background: var(--lb-sunken);
        font-size: var(--lb-size-small);
      }
    `,
  ];

  @query('dialog') private dialog!: HTMLDialogElement;
  /** The action whose new key is waited for. */
  @state() private waiting: BoardAction | null = null;
  @state() private said = '';

  protected override firstUpdated(): void {
    this.dialog.showModal();
  }

  protected override render(): TemplateResult {
    const own = ownKeys.value;
    const isOwn = !own.hasSingles || Object.keys(own.keys).length > 0;
    return html`<dialog aria-labelledby="heading" @close=${() => this.dispatchEvent(new Event('lb-close'))}>
      <header>
        <h2 id="heading">${t('board.act.shortcuts')}</h2>
        <button class="tool" aria-label=${t('board.close')} @click=${() => this.dialog.close()}>${icon('close')}</button>
      </header>
      <div class="above">
        <p class="small">${t('board.keys.lead')}</p>
        <label class="small"><input type="checkbox" name="singles" .checked=${own.hasSingles} @change=${this.#onSingles} />${t('board.keys.singles')}</label>
        <p class="small" role="status">${this.said}</p>
        ${isOwn ? html`<button class="reset" @click=${this.#onReset}>${t('board.keys.reset')}</button>` : nothing}
      </div>
      <div class="columns">
        <section><dl>${MOVES.map(([key, keys]) => html`<div><dt>${t(key)}</dt><dd><kbd>${keys}</kbd></dd></div>`)}</dl></section>
        ${ACTION_GROUPS.map(
          (group) =>
            html`<section><h3>${t(`board.group.${group}`)}</h3><dl>${BOARD_ACTIONS.filter((action) => action.group === group).map((action) => this.#renderLine(action))}</dl></section>`,
        )}
      </div>
    </dialog>`;
  }

  #renderLine(action: BoardAction): TemplateResult {
    const [first, ...others] = keysOf(action);
    const name = t(action.key);
    const more = others.map((keys) => html`<kbd>${keys}</kbd> `);
    if (action.isNative === true)
      return html`<div><dt>${name}</dt><dd><kbd>${first}</kbd> ${more}</dd></div>`;
    const isWaiting = this.waiting === action;
    return html`<div><dt>${name}</dt><dd>${more}<button
      data-action=${action.id}
      aria-pressed=${isWaiting}
      aria-label=${t('board.keys.change', { what: name, keys: first ?? t('board.keys.none') })}
      @click=${() => this.#wait(isWaiting ? null : action)}
      @keydown=${(event: KeyboardEvent) => this.#onKey(event, action)}
      @blur=${() => this.#wait(null)}
    >${isWaiting ? '…' : (first ?? '–')}</button></dd></div>`;
  }

  #wait(action: BoardAction | null): void {
    if (action === null && this.waiting === null) return;
    this.waiting = action;
    this.said = action === null ? '' : t('board.keys.press.now', { what: t(action.key) });
  }

  #onKey(event: KeyboardEvent, action: BoardAction): void {
    if (this.waiting !== action || event.key === 'Tab') return;
    event.preventDefault();
    event.stopPropagation();
    if (event.key === 'Escape') {
      this.#wait(null);
      return;
    }
    const keys = writtenKeys(event);
    if (keys === null) return;
    if (!canBeGiven(event)) {
      this.said = t('board.keys.moves');
      return;
    }
    const holder = holderOf(keys, action);
    keepOwnKeys(given(ownKeys.value, action, keys));
    this.waiting = null;
    const values = { keys, what: t(action.key) };
    this.said =
      holder === null
        ? t('board.keys.given', values)
        : t('board.keys.taken', { ...values, other: t(holder.key) });
  }

  readonly #onSingles = (event: Event): void => {
    keepOwnKeys({ ...ownKeys.value, hasSingles: (event.target as HTMLInputElement).checked });
    this.requestUpdate();
  };

  readonly #onReset = (): void => {
    keepOwnKeys(NO_OWN_KEYS);
    this.said = t('board.keys.wasReset');
  };
}
