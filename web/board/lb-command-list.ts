/**
 * Every command of the board in a list with search.
 *
 * @fires lb-close It was closed, with or without a command.
 */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { doableFirst } from './board-commands.ts';
import type { Command } from './command.ts';
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
      /* It stays where it is, and as large as it is, whatever is found. */
      dialog {
        margin-block: 10dvh auto;
        height: min(560px, 80dvh);
        max-height: none;
      }
      header {
        padding: var(--lb-space-2);
      }
      .why {
        display: block;
        font-size: var(--lb-size-small);
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
        padding-block: 4px;
        color: var(--lb-text-quiet);
        cursor: default;
      }
      [role='option'][aria-disabled='true'][aria-selected='true'] {
        background: var(--lb-sunken);
        color: var(--lb-text);
      }
      [role='option'][aria-selected='true'] kbd {
        background: transparent;
        border-color: currentcolor;
      }
      @media (hover: none) {
        kbd {
          display: none;
        }
      }
      .none {
        padding: var(--lb-space-4);
      }
    `,
  ];

  @property({ attribute: false }) commands: readonly Command[] = [];
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
          name="command"
          role="combobox"
          aria-expanded="true"
          aria-controls="list"
          aria-autocomplete="list"
          autocomplete="off"
          aria-activedescendant=${active === undefined ? nothing : `command-${active.id}`}
          aria-label=${t('board.search')}
          placeholder=${t('board.search')}
          .value=${this.text}
          @input=${this.#onInput}
          @keydown=${this.#onKey}
        />
      </header>
      <div id="list" role="listbox" aria-label=${t('board.act.commands')}>
        ${found.map((command, i) => {
          const heading = this.text === '' && command.group !== group ? command.group : null;
          group = command.group;
          return html`${heading === null ? nothing : html`<div class="heading" role="presentation">${heading}</div>`}
            <div
              role="option"
              id="command-${command.id}"
              aria-selected=${i === this.chosen}
              aria-disabled=${command.why !== null}
              @click=${() => this.#do(command)}
              @pointermove=${() => {
                this.chosen = i;
              }}
            ><span>${command.name}${command.why === null ? nothing : html` <small class="why">${command.why}</small>`}</span>${command.key === undefined ? nothing : html`<kbd>${command.key}</kbd>`}</div>`;
        })}
      </div>
      ${found.length === 0 ? html`<p class="none quiet" role="status">${t('board.noCommand')}</p>` : nothing}
    </dialog>`;
  }

  #found(): readonly Command[] {
    const ordered = doableFirst(this.commands);
    return doableFirst(
      searchActions(
        ordered,
        this.text,
        ({ name }) => name,
        ({ words }) => words,
      ),
    );
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
        const command = found[this.chosen];
        if (command !== undefined) this.#do(command);
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

  #do(command: Command): void {
    if (command.why !== null) return;
    this.dialog.close();
    command.run();
  }
}
