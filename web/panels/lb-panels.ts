/**
 * The panels beside the board, one at a time, chosen by tabs.
 *
 * Arrow keys, Home and End move between the tabs and open at once (tabs pattern of the ARIA Authoring Practices Guide). What a panel
 * needs is fetched when it is first opened.
 *
 * @fires lb-light With null when a panel closes.
 */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { Design } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import type { Pointed } from '../board/events.ts';
import { TalkThreadEvent } from '../board/talk-here.ts';
import { controls } from '../styles/controls.ts';
import type { BoardSession, Standing } from '../sync/index.ts';
import type { TalkDesk } from '../talk/talk-desk.ts';
import { t } from '../text/index.ts';
import { LightEvent } from './light-event.ts';
import { markPointed } from './mark-pointed.ts';
import { loadPanel, PANEL_IDS, type PanelId } from './panel-elements.ts';
import { WorkPlace } from './work-place.ts';

export class LbPanels extends LitElement {
  static override styles = [
    controls,
    css`
      :host {
        display: block;
        min-width: 0;
      }
      [role='tablist'] {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-1);
        padding: var(--lb-space-2) var(--lb-space-3);
        border-block-end: 1px solid var(--lb-line);
        background: var(--lb-page);
        position: sticky;
        inset-block-start: 0;
        z-index: 2;
      }
      [role='tab'] {
        flex: 1 0 auto;
        padding: 0 var(--lb-space-2);
        border-color: transparent;
        background: transparent;
        font-size: var(--lb-size-small);
        font-weight: 600;
        white-space: nowrap;
      }
      [role='tab'][aria-selected='true'] {
        background: var(--lb-sunken);
        border-color: var(--lb-line-strong);
        box-shadow: inset 0 -3px 0 var(--lb-accent);
      }
      [role='tabpanel'] {
        display: grid;
        gap: var(--lb-space-5);
        padding: var(--lb-space-4);
        min-width: 0;
      }
      [role='tabpanel']:focus-visible {
        outline-offset: -3px;
      }
      @media (max-width: 860px) {
        [role='tablist'] {
          flex-wrap: nowrap;
          overflow-x: auto;
          scroll-snap-type: x proximity;
          scrollbar-width: thin;
        }
        [role='tab'] {
          flex: none;
          min-height: 44px;
          padding: 0 var(--lb-space-3);
          scroll-snap-align: center;
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
  @state() private hasFailed = false;
  readonly #place = new WorkPlace();

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('open')) return;
    this.dispatchEvent(new LightEvent(null));
    void this.#load(this.open);
  }

  protected override render(): TemplateResult {
    const { open } = this;
    return html`
      <div role="tablist" aria-label=${t('panels.tabs')} @keydown=${this.#onKey}>
        ${PANEL_IDS.map(
          (id) => html`<button
            role="tab"
            id="tab-${id}"
            aria-selected=${id === open}
            aria-controls="panel"
            tabindex=${id === open ? 0 : -1}
            @click=${() => this.#show(id)}
          >
            ${t(`panels.${id}`)}${this.#renderCount(id)}
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
      return this.hasFailed
        ? html`<p class="warn" role="alert">${t('panels.failed')}</p>
            <button @click=${() => this.#load(open)}>${t('panels.retry')}</button>`
        : html`<p class="quiet" role="status">${t('panels.loading')}</p>`;
    }
    switch (open) {
      case 'mounting':
        return html`
          <lb-mounting-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-mounting-panel>
          <lb-palette-panel .talk=${this.talk} .board=${board} .design=${design} .chosen=${this.chosen} ?canEdit=${canEdit}></lb-palette-panel>
          <lb-colour-check .board=${board}></lb-colour-check>
          <lb-repeat-panel .board=${board}></lb-repeat-panel>
          <lb-cautions></lb-cautions>
        `;
      case 'cutting':
        return html`<lb-cutting-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-cutting-panel>`;
      case 'gauge':
        return html`<lb-gauge-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-gauge-panel>`;
      case 'work':
        return html`<lb-work-panel .talk=${this.talk} .board=${board} .design=${design} .place=${this.#place} ?canEdit=${canEdit}></lb-work-panel>`;
      case 'symmetry':
        return html`<lb-symmetry-panel .talk=${this.talk} .board=${board} .design=${design} ?canEdit=${canEdit}></lb-symmetry-panel>`;
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

  async #load(id: PanelId): Promise<void> {
    if (this.loaded.has(id)) return;
    this.hasFailed = false;
    try {
      await loadPanel(id);
      this.loaded = new Set(this.loaded).add(id);
    } catch (error) {
      // A browser says only that the module could not be fetched; the panel says so and offers to try again.
      if (!(error instanceof TypeError)) throw error;
      this.hasFailed = true;
    }
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
    const targets: Readonly<Record<string, number>> = {
      ArrowRight: at + (isRightToLeft ? -1 : 1),
      ArrowLeft: at + (isRightToLeft ? 1 : -1),
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
