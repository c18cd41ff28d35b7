/**
 * The panels beside the board, one at a time, chosen by tabs.
 *
 * Arrow keys, Home and End move between the tabs and open at once (tabs pattern of the ARIA Authoring Practices Guide): up and down in the
 * rail beside a panel, left and right where the tabs stand above it. What a panel needs, and the icons, are fetched when first wanted.
 *
 * @fires lb-light With null when a panel closes.
 */
import { css, html, LitElement, type PropertyValues, type SVGTemplateResult, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { Design } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import {
  chosenTextures,
  LightEvent,
  type PanelId,
  type PanelsBeside,
  type Pointed,
  TalkThreadEvent,
  TexturesEvent,
} from '../board/index.ts';
import { fetchPart, type MissingKind, missingPart, usePart } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import type { BoardSession, Standing } from '../sync/index.ts';
import type { TalkDesk } from '../talk/index.ts';
import { t } from '../text/index.ts';
import { markPointed } from './mark-pointed.ts';
import { WorkPlace } from './work-place.ts';

/** In the order of their tabs: the pattern, what is made of it, and people round it. */
const GROUPS: readonly (readonly PanelId[])[] = [
  ['mounting', 'colours', 'symmetry'],
  ['piece', 'gauge', 'cutting', 'work'],
  ['talk', 'proposals', 'versions', 'notes'],
];
const PANEL_IDS: readonly PanelId[] = GROUPS.flat();
const FIRST_OF_GROUP: ReadonlySet<PanelId> = new Set(GROUPS.map(([first]) => first!));

export class LbPanels extends LitElement implements PanelsBeside {
  static override styles = [
    controls,
    css`
      :host {
        display: grid;
        grid-template-columns: 90px minmax(0, 1fr);
        flex: 1;
        min-width: 0;
        min-height: 0;
      }
      [role='tablist'] {
        display: flex;
        flex-direction: column;
        gap: 2px;
        padding: var(--lb-space-2) var(--lb-space-1);
        border-inline-end: 1px solid var(--lb-line);
        background: var(--lb-page);
        overflow-y: auto;
        scrollbar-width: thin;
      }
      [role='tab'] {
        position: relative;
        flex: none;
        display: grid;
        gap: 2px;
        align-content: center;
        justify-items: center;
        min-width: 0;
        min-height: 50px;
        padding: 3px 2px;
        border-color: transparent;
        background: transparent;
        color: var(--lb-text-quiet);
        font-size: 0.75rem;
        line-height: 1.15;
        font-weight: 600;
        text-align: center;
        overflow-wrap: anywhere;
        hyphens: auto;
      }
      /* A group of panels begins. */
      [role='tab'].first:not(:first-child) {
        margin-block-start: 13px;
      }
      [role='tab'].first:not(:first-child)::before {
        content: '';
        position: absolute;
        inset: -8px 8px auto;
        border-block-start: 1px solid var(--lb-line);
      }
      [role='tab']:hover {
        color: var(--lb-text);
      }
      [role='tab'][aria-selected='true'] {
        background: var(--lb-sunken);
        border-color: var(--lb-line-strong);
        color: var(--lb-text);
      }
      [role='tab'][aria-selected='true']::after {
        content: '';
        position: absolute;
        inset-block: 6px;
        inset-inline-start: 0;
        border-inline-start: 3px solid var(--lb-accent);
      }
      [role='tab'] svg {
        height: 20px;
        width: 20px;
      }
      [role='tab'] b {
        position: absolute;
        inset-block-start: 2px;
        inset-inline-end: 8px;
        min-width: 18px;
        padding: 0 4px;
        border-radius: 9px;
        background: var(--lb-accent);
        color: var(--lb-on-accent);
        line-height: 18px;
      }
      [role='tabpanel'] {
        display: grid;
        align-content: start;
        gap: var(--lb-space-5);
        padding: var(--lb-space-4);
        min-width: 0;
        overflow-y: auto;
      }
      [role='tabpanel']:focus-visible {
        outline-offset: -3px;
      }
      /* Where there is no height for icons, the names alone. */
      @media (min-width: 861px) and (max-height: 800px) {
        [role='tab'] {
          min-height: 34px;
        }
        [role='tab'] svg {
          display: none;
        }
      }
      /* Below the board: all tabs in sight, in one row; on a phone each group has a row. */
      @media (max-width: 860px) {
        :host {
          display: block;
        }
        [role='tablist'] {
          display: grid;
          grid-template-columns: repeat(11, minmax(0, 1fr));
          border-inline-end: 0;
          border-block-end: 1px solid var(--lb-line);
          overflow: visible;
          position: sticky;
          inset-block-start: 0;
          z-index: 2;
        }
        [role='tab'],
        [role='tab'].first:not(:first-child) {
          margin: 0;
          min-height: 52px;
        }
        [role='tab'].first:not(:first-child)::before {
          inset: 10px auto 10px -1px;
          border-block-start: 0;
          border-inline-start: 1px solid var(--lb-line);
        }
        [role='tab'][aria-selected='true']::after {
          inset: auto 8px 0;
          border-inline-start: 0;
          border-block-end: 3px solid var(--lb-accent);
        }
        [role='tabpanel'] {
          overflow: visible;
        }
      }
      /* Columns as wide as their longest word, as long as eleven of them have the room. */
      @media (min-width: 720px) and (max-width: 860px) {
        [role='tablist'] {
          grid-template-columns: repeat(11, minmax(min-content, 1fr));
        }
        [role='tab'] {
          overflow-wrap: normal;
        }
      }
      @media (max-width: 719px) {
        [role='tablist'] {
          grid-template-columns: repeat(12, minmax(0, 1fr));
          position: static;
        }
        [role='tab'] {
          grid-column: span 3;
          min-height: 46px;
        }
        [role='tab']:nth-child(-n + 3) {
          grid-column: span 4;
        }
        [role='tab'].first::before {
          display: none;
        }
      }
    `,
  ];

  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) design!: Design;
  @property({ attribute: false }) session!: BoardSession;
  /** Palette id chosen for the pegs; null = none. */
  @property({ attribute: false }) chosen: string | null = null;
  @property({ type: Boolean }) canEdit = false;
  @property({ attribute: false }) boardId = '';
  /** Who one is here, for proposals; null where the server keeps no links. */
  @property({ attribute: false }) standing: Standing | null | undefined;
  /** Proposals that wait for this person's answer. */
  @property({ attribute: false }) waiting = 0;
  /** The talk; null until it is open. */
  @property({ attribute: false }) talk: TalkDesk | null = null;
  /** Remarks of others that this person has not looked at. */
  @property({ attribute: false }) unread = 0;
  /** The panel that is open. */
  @property({ attribute: false }) open: PanelId = 'mounting';
  @state() private loaded: ReadonlySet<PanelId> = new Set();
  /** Why the panel that is open is not there; null = it is, or is on its way. */
  @state() private missing: MissingKind | null = null;
  @state() private icons: Readonly<Record<PanelId, SVGTemplateResult>> | null = null;
  readonly #rail = matchMedia('(min-width: 861px)');
  #place: WorkPlace | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#rail.addEventListener('change', this.#onRail);
    void this.#fetchIcons();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#rail.removeEventListener('change', this.#onRail);
  }

  #placeHere(): WorkPlace {
    const { boardId } = this.session;
    if (this.#place?.boardId !== boardId) this.#place = new WorkPlace(boardId, localStorage);
    return this.#place;
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    // Also while the panel of colours is closed: the choice is remembered, and others change colours.
    if (changed.has('board') && changed.get('board')?.palette !== this.board.palette)
      this.dispatchEvent(new TexturesEvent(chosenTextures(this.board.palette) ?? null));
    if (!changed.has('open')) return;
    this.dispatchEvent(new LightEvent(null));
    void this.#load(this.open);
  }

  protected override render(): TemplateResult {
    const { open } = this;
    return html`
      <div role="tablist" aria-label=${t('panels.tabs')} aria-orientation=${this.#rail.matches ? 'vertical' : 'horizontal'} @keydown=${this.#onKey}>
        ${PANEL_IDS.map(
          (id) => html`<button
            role="tab"
            id="tab-${id}"
            class=${FIRST_OF_GROUP.has(id) ? 'first' : ''}
            aria-selected=${id === open}
            aria-controls="panel"
            tabindex=${id === open ? 0 : -1}
            @click=${() => this.#show(id)}
          >
            <svg viewBox="0 0 24 24" fill="none" stroke="currentcolor" stroke-width="1.8" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true">${this.icons?.[id]}</svg>${t(`panels.${id}`)}${this.#renderCount(id)}
          </button>`,
        )}
      </div>
      <div role="tabpanel" id="panel" aria-labelledby="tab-${open}" tabindex="0" @lb-open-panel=${({ panel }: HTMLElementEventMap['lb-open-panel']) => this.#show(panel)}>${this.#renderRemarks()}${this.#renderOpen()}</div>
    `;
  }

  #renderCount(id: PanelId): TemplateResult | '' {
    const count = id === 'proposals' ? this.waiting : id === 'talk' ? this.unread : 0;
    return count > 0 ? html`<b>${count}</b>` : '';
  }

  /** The way to what is said about the open panel. */
  #renderRemarks(): TemplateResult | '' {
    const threads = this.talk?.aboutPanel(this.open) ?? [];
    const latest = threads.at(-1);
    if (latest === undefined) return '';
    const count = threads.reduce((sum, { remarks }) => sum + remarks.length, 0);
    return html`<p><button @click=${() => this.dispatchEvent(new TalkThreadEvent(latest.id))}>${t('board.remarksHere', { count })}</button></p>`;
  }

  #renderOpen(): TemplateResult {
    const { board, design, canEdit, open } = this;
    if (!this.loaded.has(open)) {
      return this.missing === null
        ? html`<p class="quiet" role="status">${t('panels.loading')}</p>`
        : missingPart(this.missing, () => this.#load(open));
    }
    switch (open) {
      case 'mounting':
        return html`
          <lb-mounting-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-mounting-panel>
          <lb-cautions></lb-cautions>
        `;
      case 'colours':
        return html`
          <lb-palette-panel .talk=${this.talk} .board=${board} .design=${design} .chosen=${this.chosen} ?canEdit=${canEdit}></lb-palette-panel>
          <lb-colour-check .board=${board}></lb-colour-check>
        `;
      case 'cutting':
        return html`<lb-cutting-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-cutting-panel>`;
      case 'gauge':
        return html`<lb-gauge-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-gauge-panel>`;
      case 'work':
        return html`<lb-work-panel .talk=${this.talk} .board=${board} .design=${design} .place=${this.#placeHere()} ?canEdit=${canEdit}></lb-work-panel>`;
      case 'symmetry':
        return html`<lb-symmetry-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-symmetry-panel>
          <lb-repeat-panel .board=${board}></lb-repeat-panel>`;
      case 'notes':
        return html`<lb-notes-panel .board=${board} .design=${design} ?canEdit=${canEdit}></lb-notes-panel>`;
      case 'proposals':
        return html`<lb-proposals-panel .boardId=${this.boardId} .standing=${this.standing}></lb-proposals-panel>`;
      case 'talk':
        return html`<lb-talk-panel .board=${board} .design=${design} .desk=${this.talk}></lb-talk-panel>`;
      case 'versions':
        return html`<lb-versions-panel .session=${this.session} .board=${board} ?canEdit=${canEdit && this.session?.isSketch !== true}></lb-versions-panel>`;
      case 'piece':
        return html`<lb-piece-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-piece-panel>`;
    }
  }

  /** The names say all; where the icons cannot be fetched their places stay empty. */
  async #fetchIcons(): Promise<void> {
    await usePart(
      'panel-icons',
      ({ PANEL_ICONS }) => {
        this.icons = PANEL_ICONS;
      },
      true,
    );
  }

  readonly #onRail = (): void => this.requestUpdate();

  async #load(id: PanelId): Promise<void> {
    if (this.loaded.has(id)) return;
    if (id === this.open) this.missing = null;
    const fetched = await fetchPart(`panel-${id}`);
    if (fetched.ok) this.loaded = new Set(this.loaded).add(id);
    else if (id === this.open) this.missing = fetched.error.kind;
  }

  /** Fulfils when a panel is there, and shown if it is the one that is open. */
  async isLoaded(id: PanelId): Promise<void> {
    await this.#load(id);
    await this.updateComplete;
  }

  /** Marks what the open panel says of the knot that is pointed at on the board; null = of none. */
  pointAt(at: Pointed | null): void {
    markPointed(this.renderRoot, at);
  }

  #show(id: PanelId): void {
    this.open = id;
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    const at = PANEL_IDS.indexOf(this.open);
    const isRightToLeft = getComputedStyle(this).direction === 'rtl';
    const last = PANEL_IDS.length - 1;
    const [on, back] = this.#rail.matches
      ? ['ArrowDown', 'ArrowUp']
      : isRightToLeft
        ? ['ArrowLeft', 'ArrowRight']
        : ['ArrowRight', 'ArrowLeft'];
    const targets: Readonly<Record<string, number>> = {
      [on]: at + 1,
      [back]: at - 1,
      Home: 0,
      End: last,
    };
    const target = targets[event.key];
    if (target === undefined) return;
    event.preventDefault();
    const id = PANEL_IDS[(target + PANEL_IDS.length) % PANEL_IDS.length]!;
    this.#show(id);
    const tab = this.renderRoot.querySelector<HTMLElement>(`#tab-${id}`);
    tab?.focus();
    tab?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  };
}
