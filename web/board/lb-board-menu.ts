/**
 * What can be done at a place of the board: a menu at the pointer or the cursor, after the APG menu pattern.
 *
 * @fires lb-close It was closed, with or without a command.
 */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { KnotCode } from '../../engine/index.ts';
import { knotIcon } from '../icons/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import type { ActionHost, BoardAction } from './board-action.ts';
import { actionOf, BOARD_ACTIONS, isAllowed } from './board-actions.ts';
import { keysOf } from './own-keys.ts';
import { pegMenu } from './peg-actions.ts';
import type { PixelPoint } from './viewport.ts';

@spoken
export class LbBoardMenu extends LitElement {
  static override styles = [
    controls,
    css`
      [popover] {
        position: fixed;
        inset: auto;
        margin: 0;
        width: 252px;
        max-height: calc(100dvh - 24px);
        overflow-y: auto;
        padding: var(--lb-space-1);
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        color: var(--lb-text);
        box-shadow: var(--lb-shadow);
      }
      .knots {
        display: flex;
        justify-content: space-between;
        padding-block-end: var(--lb-space-1);
        margin-block-end: var(--lb-space-1);
        border-block-end: 1px solid var(--lb-line);
      }
      button {
        width: 100%;
        justify-content: space-between;
        padding: 0 var(--lb-space-2);
        border-color: transparent;
        background: transparent;
        font-size: var(--lb-size-small);
        text-align: start;
      }
      .knots:has(.dot) {
        flex-wrap: wrap;
        justify-content: flex-start;
        max-height: 140px;
        overflow-y: auto;
      }
      .dot {
        width: 24px;
        height: 24px;
        border: 1px solid var(--lb-line-strong);
        border-radius: 50%;
      }
      .knots button {
        width: 44px;
        height: 44px;
        padding: 0;
        justify-content: center;
      }
      button:hover:not(:disabled),
      button:focus-visible {
        background: var(--lb-sunken);
        outline-offset: -3px;
      }
      kbd {
        font: inherit;
        color: var(--lb-text-quiet);
      }
      @media (pointer: coarse) {
        kbd {
          display: none;
        }
      }
      @media (max-width: 860px) and (hover: none) {
        [popover]:popover-open {
          inset: auto 0 0 !important;
          display: flex;
          align-items: center;
          width: auto;
          height: 50px;
          overflow: auto hidden;
          border-radius: 0;
        }
        button,
        .knots {
          flex: none;
          width: auto;
          margin: 0;
          padding-block-end: 0;
          border-block-end: 0;
        }
        hr {
          display: none;
        }
      }
      hr {
        margin: var(--lb-space-1) 0;
        border: 0;
        border-block-start: 1px solid var(--lb-line);
      }
    `,
  ];

  @property({ attribute: false }) host!: ActionHost;
  /** Where on the board's stage, in px. */
  @property({ attribute: false }) at!: PixelPoint;

  protected override firstUpdated(): void {
    const menu = this.renderRoot.querySelector<HTMLElement>('[popover]');
    if (menu === null) return;
    const stage = this.host.stage.getBoundingClientRect();
    menu.showPopover();
    const box = menu.getBoundingClientRect();
    const inside = (at: number, length: number, room: number): number =>
      Math.max(8, Math.min(at, room - length - 8));
    menu.style.left = `${inside(stage.left + this.at.px + 4, box.width, innerWidth)}px`;
    menu.style.top = `${inside(stage.top + this.at.py + 4, box.height, innerHeight)}px`;
    this.#items()[0]?.focus();
  }

  protected override render(): TemplateResult {
    const { canEdit, spot } = this.host.editor;
    const isPeg = spot.on === 'peg';
    const all = isPeg ? pegMenu() : BOARD_ACTIONS.filter(({ inMenu }) => inMenu === true);
    // Who may only look is not shown a list of what they may not do.
    const actions = all.filter(
      ({ edits, isOffered }) => (canEdit || edits !== true) && (isOffered?.(this.host) ?? true),
    );
    let group = actions[0]?.group;
    return html`<div popover="auto" role="menu" aria-label=${t('board.menu')} @toggle=${this.#onToggle} @keydown=${this.#onKey}>
      ${canEdit ? (isPeg ? this.#renderColours(spot.place) : this.#renderKnots()) : nothing}
      ${actions.map((action) => {
        const line = action.group === group ? nothing : html`<hr role="none" />`;
        group = action.group;
        return html`${line}<button role="menuitem" tabindex="-1" data-action=${action.id} ?disabled=${!isAllowed(action, this.host)} @click=${() => this.#do(action)}>
          <span>${t(action.key)}</span>${keysOf(action).length === 0 ? nothing : html`<kbd>${keysOf(action)[0]}</kbd>`}
        </button>`;
      })}
    </div>`;
  }

  /** The colours that the peg can take. */
  #renderColours(place: number): TemplateResult {
    const { board } = this.host.editor.model;
    return html`<div class="knots" role="none">
        ${board.palette.map(({ id, name, hex }) => {
          const label = t('peg.give', { name: name || id });
          return html`<button
            role="menuitem"
            tabindex="-1"
            aria-label=${label}
            title=${label}
            ?disabled=${board.pattern.colours[place] === id}
            @click=${() => this.#give(id, place)}
          ><span class="dot" style="background:${hex}"></span></button>`;
        })}
      </div>`;
  }

  #give(colour: string, place: number): void {
    this.#close();
    const { editor } = this.host;
    editor.recolour(place, colour);
  }

  #renderKnots(): TemplateResult {
    return html`<div class="knots" role="none">
        ${([1, 2, 3, 4, 0] as readonly KnotCode[]).map((knot) => {
          const action = actionOf(`knot-${knot}`);
          return html`<button
            role="menuitem"
            tabindex="-1"
            aria-label=${t(action.key)}
            title=${t(action.key)}
            @click=${() => this.#tie(action)}
          >${knotIcon(knot)}</button>`;
        })}
      </div>`;
  }

  #items(): readonly HTMLButtonElement[] {
    return [...this.renderRoot.querySelectorAll<HTMLButtonElement>('[role=menuitem]:not(:disabled)')];
  }

  #close(): void {
    this.renderRoot.querySelector<HTMLElement>('[popover]')?.hidePopover();
  }

  #do(action: BoardAction): void {
    this.#close();
    action.run(this.host);
  }

  #tie(action: BoardAction): void {
    this.#do(action);
    this.host.editor.tieHere();
  }

  readonly #onToggle = (event: ToggleEvent): void => {
    if (event.newState === 'closed') this.dispatchEvent(new Event('lb-close'));
  };

  readonly #onKey = (event: KeyboardEvent): void => {
    const items = this.#items();
    const at = items.indexOf(this.shadowRoot?.activeElement as HTMLButtonElement);
    const to = {
      ArrowDown: (at + 1) % items.length,
      ArrowRight: (at + 1) % items.length,
      ArrowUp: (at - 1 + items.length) % items.length,
      ArrowLeft: (at - 1 + items.length) % items.length,
      Home: 0,
      End: items.length - 1,
    }[event.key];
    if (event.key === 'Tab') this.#close();
    if (to === undefined) return;
    event.preventDefault();
    items[to]?.focus();
  };
}
