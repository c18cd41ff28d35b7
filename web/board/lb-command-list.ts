/**
 * Every command of the board in a list with search.
 *
 * @fires lb-close It was closed, with or without a command.
 */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { ACTION_GROUPS, type ActionHost, type BoardAction } from './board-action.ts';
import { BOARD_ACTIONS, isAllowed } from './board-actions.ts';
import { keysOf } from './own-keys.ts';
import { searchActions } from './search-actions.ts';
import { sheetStyles } from './sheet.styles.ts';

export { LbBoardMenu } from './lb-board-menu.ts';
export { LbShortcutSheet } from './lb-shortcut-sheet.ts';

@spoken
export class LbCommandList extends LitElement {
  static override styles = [
    controls,
    sheetStyles,
    css`
      header {
        padding: var(--lb-space-2);
      }
      input {
        flex: 1;
        border-color: transparent;
        font-size: var(--lb-size-lead);
      }
      [role='listbox'] {
        padding: var(--lb-space-2);
      }
      .heading {
        padding: var(--lb-space-2) var(--lb-space-2) 2px;
        color: var(--lb-text-quiet);
        font-size: var(--lb-size-small);
      }
      [role='option'] {
        display: flex;
        align-items: center;
        justify-content: space-between;
        gap: var(--lb-space-3);
        min-height: 36px;
        padding: 0 var(--lb-space-2);
        border-radius: var(--lb-radius-small);
        cursor: pointer;
      }
      [role='option'][aria-selected='true'] {
        background: var(--lb-accent);
        color: var(--lb-on-accent);
      }
      [role='option'][aria-disabled='true'] {
        opacity: 0.55;
        cursor: default;
      }
      [role='option'][aria-selected='true'] kbd {
        background: transparent;
        border-color: currentcolor;
      }
      .none {
        padding: var(--lb-space-4);
      }
    `,
  ];

  @property({ attribute: false }) host!: ActionHost;
  @state() private text = '';
  @state() private chosen = 0;
  @query('dialog') private dialog!: HTMLDialogElement;

  protected override firstUpdated(): void {
    this.dialog.showModal();
  }

  protected override render(): TemplateResult {
    const found = this.#found();
    const active = found[this.chosen];
    let group = '';
    return html`<dialog
      aria-label=${t('board.act.commands')}
      @close=${() => this.dispatchEvent(new Event('lb-close'))}
      @click=${(event: Event) => {
        if (event.target === this.dialog) this.dialog.close();
      }}
    >
      <header>
        <input
          type="text"
          role="combobox"
          aria-expanded="true"
          aria-controls="list"
          aria-autocomplete="list"
          aria-activedescendant=${active === undefined ? nothing : `action-${active.id}`}
          aria-label=${t('board.search')}
          placeholder=${t('board.search')}
          .value=${this.text}
          @input=${this.#onInput}
          @keydown=${this.#onKey}
        />
      </header>
      <div id="list" role="listbox" aria-label=${t('board.act.commands')}>
        ${found.map((action, i) => {
          const heading = this.text === '' && action.group !== group ? action.group : null;
          group = action.group;
          return html`${heading === null ? nothing : html`<div class="heading" role="presentation">${t(`board.group.${heading}`)}</div>`}
            <div
              role="option"
              id="action-${action.id}"
              aria-selected=${i === this.chosen}
              aria-disabled=${!isAllowed(action, this.host)}
              @click=${() => this.#do(action)}
              @pointermove=${() => {
                this.chosen = i;
              }}
            ><span>${t(action.key)}</span>${keysOf(action).length === 0 ? nothing : html`<kbd>${keysOf(action)[0]}</kbd>`}</div>`;
        })}
      </div>
      ${found.length === 0 ? html`<p class="none quiet" role="status">${t('board.noCommand')}</p>` : nothing}
    </dialog>`;
  }

  #found(): readonly BoardAction[] {
    const ordered = ACTION_GROUPS.flatMap((group) =>
      BOARD_ACTIONS.filter((action) => action.group === group),
    );
    return searchActions(ordered, this.text, (action) => t(action.key));
  }

  readonly #onInput = (event: Event): void => {
    this.text = (event.target as HTMLInputElement).value;
    this.chosen = 0;
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    const found = this.#found();
    event.stopPropagation();
    switch (event.key) {
      case 'ArrowDown':
        this.chosen = Math.min(found.length - 1, this.chosen + 1);
        break;
      case 'ArrowUp':
        this.chosen = Math.max(0, this.chosen - 1);
        break;
      case 'Enter': {
        const action = found[this.chosen];
        if (action !== undefined) this.#do(action);
        break;
      }
      default:
        return;
    }
    event.preventDefault();
    void this.updateComplete.then(() =>
      this.renderRoot.querySelector('[aria-selected=true]')?.scrollIntoView({ block: 'nearest' }),
    );
  };

  #do(action: BoardAction): void {
    if (!isAllowed(action, this.host)) return;
    this.dialog.close();
    action.run(this.host);
  }
}
