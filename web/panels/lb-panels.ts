/**
 * The panels beside the board, one at a time, chosen by tabs.
 *
 * Arrow keys, Home and End move between the tabs and open at once (tabs pattern of the ARIA Authoring Practices Guide): up and down in the
 * rail beside a panel, left and right where the tabs stand above it. What a panel needs, and the icons, are fetched when first wanted.
 *
 * @fires lb-talk-thread What is said about the open panel is to be read.
 */
import { css, html, LitElement, type SVGTemplateResult, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { type PanelId, panelName, TalkThreadEvent } from '../board/index.ts';
import { Consumer, Subscriptions } from '../context/index.ts';
import { fetchPart, type MissingKind, missingPart, usePart } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import { type PageHandles, pageHandles } from '../talk/index.ts';
import { spoken, t } from '../text/index.ts';
import { firstHalfOf, showMountedFrom } from '../worker/index.ts';
import { PanelSheet } from './panel-sheet.ts';
import { WorkPlace } from './work-place.ts';

/** For the page, which has no use for it before the board. */
export { chosenTextures } from '../board/index.ts';

/** In the order of their tabs: the pattern, what is made of it, and people round it. */
const GROUPS: readonly (readonly PanelId[])[] = [
  ['mounting', 'colours', 'symmetry'],
  ['piece', 'gauge', 'cutting', 'cost', 'work'],
  ['talk', 'proposals', 'versions', 'notes'],
];
const PANEL_IDS: readonly PanelId[] = GROUPS.flat();
const FIRST_OF_GROUP: ReadonlySet<PanelId> = new Set(GROUPS.map(([first]) => first!));

@spoken
export class LbPanels extends LitElement {
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
          min-height: 30px;
        }
        [role='tab'] svg {
          display: none;
        }
      }
      .handle {
        display: none;
      }
      /* A sheet over the board: the tabs in a row that scrolls sideways. */
      @media (max-width: 860px) {
        :host {
          display: flex;
          flex-direction: column;
          flex: none;
          height: 46dvh;
          border-block-start: 1px solid var(--lb-line-strong);
          background: var(--lb-page);
          box-shadow: var(--lb-shadow);
        }
        :host([sheet='closed']) {
          display: none;
        }
        :host([sheet='full']) {
          position: absolute;
          inset: 0;
          z-index: 5;
          height: auto;
        }
        .handle {
          display: flex;
          flex: none;
        }
        .handle button {
          border-color: transparent;
          background: transparent;
        }
        .handle button:focus-visible {
          outline-offset: -3px;
        }
        .grip {
          flex: 1;
          touch-action: none;
        }
        .grip::before {
          content: '';
          width: 44px;
          height: 5px;
          border-radius: 3px;
          background: var(--lb-line-strong);
        }
        [role='tablist'] {
          flex: none;
          flex-direction: row;
          padding-block: 0 var(--lb-space-1);
          border-inline-end: 0;
          border-block-end: 1px solid var(--lb-line);
          overflow: auto hidden;
        }
        [role='tab'],
        [role='tab'].first:not(:first-child) {
          margin: 0;
          min-width: 76px;
          min-height: 46px;
          overflow-wrap: normal;
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
          flex: 1;
          min-height: 0;
        }
      }
      /* Turned: the grip beside the tabs, for what there is of height. */
      @media (max-width: 860px) and (max-height: 500px) {
        :host {
          position: relative;
          height: 36dvh;
        }
        .handle {
          position: absolute;
          z-index: 1;
          inset-inline-end: 0;
          height: 50px;
          background: var(--lb-page);
        }
        [role='tablist'] {
          margin-inline-end: 112px;
        }
      }
    `,
  ];

  readonly #handles = new Consumer(this, pageHandles, (handles) => this.#onHandles(handles));
  @state() private loaded: ReadonlySet<PanelId> = new Set();
  /** Why the panel that is open is not there; null = it is, or is on its way. */
  @state() private missing: MissingKind | null = null;
  @state() private icons: Readonly<Record<PanelId, SVGTemplateResult>> | null = null;
  readonly #rail = matchMedia('(min-width: 861px)');
  #place: WorkPlace | null = null;
  readonly #sheet = new PanelSheet(this);
  readonly #subscriptions = new Subscriptions(this);

  override connectedCallback(): void {
    super.connectedCallback();
    this.#rail.addEventListener('change', this.#onRail);
    void this.#fetchIcons();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.#rail.removeEventListener('change', this.#onRail);
  }

  /** What lives as long as the page. */
  get #page(): PageHandles {
    const { value } = this.#handles;
    if (value === null) throw new RangeError('the panels stand beside no board');
    return value;
  }

  get #open(): PanelId {
    return this.#page.panels.open.value;
  }

  #placeHere(): WorkPlace {
    const { boardId } = this.#page.session;
    if (this.#place?.boardId !== boardId) this.#place = new WorkPlace(boardId, localStorage);
    return this.#place;
  }

  #onHandles(handles: PageHandles | null): void {
    this.#subscriptions.keep();
    if (handles === null) return;
    showMountedFrom(firstHalfOf(handles.session.boardId));
    const draw = (): void => this.requestUpdate();
    const { open, waiting, sheet } = handles.panels;
    this.#sheet.of(sheet);
    const { design } = handles.session;
    let { begin } = design.snapshot.board.piece;
    const drawNames = (): void => {
      const { begin: now } = design.snapshot.board.piece;
      if (now === begin) return;
      begin = now;
      draw();
    };
    this.#subscriptions.keep(
      open.subscribe((id) => void this.#load(id)),
      waiting.subscribe(draw),
      design.subscribe(drawNames),
      handles.talk?.subscribe(draw) ?? (() => {}),
    );
    void this.#load(open.value);
  }

  protected override render(): TemplateResult {
    const open = this.#open;
    return html`
      ${this.#sheet.render()}
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
            <svg viewBox="0 0 24 24" fill="none" stroke="currentcolor" stroke-width="1.8" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true">${this.icons?.[id]}</svg>${panelName(id, this.#page.session.design.snapshot.board.piece)}${this.#renderCount(id)}
          </button>`,
        )}
      </div>
      <div role="tabpanel" id="panel" aria-labelledby="tab-${open}" tabindex="0">${this.#renderRemarks()}${this.#renderOpen()}</div>
    `;
  }

  #renderCount(id: PanelId): TemplateResult | '' {
    const { panels, talk } = this.#page;
    const count = id === 'proposals' ? panels.waiting.value : id === 'talk' ? (talk?.unread ?? 0) : 0;
    return count > 0 ? html`<b>${count}</b>` : '';
  }

  /** The way to what is said about the open panel. */
  #renderRemarks(): TemplateResult | '' {
    const threads = this.#page.talk?.aboutPanel(this.#open) ?? [];
    const latest = threads.at(-1);
    if (latest === undefined) return '';
    const count = threads.reduce((sum, { remarks }) => sum + remarks.length, 0);
    return html`<p><button @click=${() => this.dispatchEvent(new TalkThreadEvent(latest.id))}>${t('board.remarksHere', { count })}</button></p>`;
  }

  #renderOpen(): TemplateResult {
    const open = this.#open;
    if (!this.loaded.has(open)) {
      return this.missing === null
        ? html`<p class="quiet" role="status">${t('panels.loading')}</p>`
        : missingPart(this.missing, () => this.#load(open));
    }
    switch (open) {
      case 'mounting':
        return html`
          <lb-mounting-panel .place=${this.#placeHere()}></lb-mounting-panel>
          <lb-cautions></lb-cautions>
        `;
      case 'colours':
        return html`
          <lb-palette-panel></lb-palette-panel>
          <lb-colour-check></lb-colour-check>
        `;
      case 'cutting':
        return html`<lb-cutting-panel></lb-cutting-panel>`;
      case 'cost':
        return html`<lb-cost-panel></lb-cost-panel>`;
      case 'gauge':
        return html`<lb-gauge-panel></lb-gauge-panel>`;
      case 'work':
        return html`<lb-work-panel .place=${this.#placeHere()}></lb-work-panel>`;
      case 'symmetry':
        return html`<lb-symmetry-panel></lb-symmetry-panel>
          <lb-repeat-panel></lb-repeat-panel>`;
      case 'notes':
        return html`<lb-notes-panel></lb-notes-panel>`;
      case 'proposals':
        return html`<lb-proposals-panel></lb-proposals-panel>`;
      case 'talk':
        return html`<lb-talk-panel></lb-talk-panel>`;
      case 'versions':
        return html`<lb-versions-panel></lb-versions-panel>`;
      case 'piece':
        return html`<lb-piece-panel></lb-piece-panel>`;
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
    if (id === this.#open) {
      this.missing = null;
      this.requestUpdate();
    }
    if (this.loaded.has(id)) return;
    const fetched = await fetchPart(`panel-${id}`);
    if (fetched.ok) this.loaded = new Set(this.loaded).add(id);
    else if (id === this.#open) this.missing = fetched.error.kind;
  }

  #show(id: PanelId): void {
    this.#page.panels.show(id);
  }

  readonly #onKey = (event: KeyboardEvent): void => {
    const at = PANEL_IDS.indexOf(this.#open);
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
