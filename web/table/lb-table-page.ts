/**
 * Making one keychain from a board, with a phone propped against a cup and both hands busy: keychains under way, and of the chosen one
 * the stages cut, mount, tie, finish.
 *
 * Which keychain it is stands in the address, so that it is there after a reload. The two large buttons belong to the page and stay
 * where they are; what they do is up to the stage.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import {
  AS_BOARD,
  type Board,
  type CutList,
  compareTied,
  cutListOf,
  dressBoard,
  isHung,
  renamedWay,
} from '../../engine/index.ts';
import { choiceField, languageChoice, unitSwitch } from '../fields/index.ts';
import { pageIcon } from '../icons/index.ts';
import { ScreenAwake } from '../panels/index.ts';
import { controls } from '../styles/index.ts';
import { newId } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { keepUnit, readUnit } from '../units/index.ts';
import {
  BoardVisit,
  boardHeaderStyles,
  emptyStateStyles,
  emptyVisit,
  goTo,
  isForThisTab,
  visitNotices,
} from '../visit/index.ts';
import { orRefusal } from '../words/index.ts';
import { firstHalfOf, PlanReader, planPending, showMountedFrom } from '../worker/index.ts';
import { type Cord, cordsOf, mountMoves } from './cords.ts';
import { Hands } from './hands.ts';
import type { KeychainEvent } from './keychain-event.ts';
import { type Keychain, KeychainShelf, marksOf, STAGES, TABLE_METHODS } from './keychain-shelf.ts';
import { tablePageStyles } from './lb-table-page.styles.ts';
import { rowFinder, rowTexts } from './row-addresses.ts';
import type { TableStage } from './stage.ts';

export { LbTableCut } from './lb-table-cut.ts';
export { LbTableFinish } from './lb-table-finish.ts';
export { LbTableMount } from './lb-table-mount.ts';
export { LbTableTie } from './lb-table-tie.ts';

/** What the large button is called in a stage. */
const ON = {
  cut: 'table.on.cut',
  mount: 'table.on.mount',
  tie: 'table.on',
  finish: 'table.on.mount',
} as const;
const MOST_NAME = 60;

@spoken
export class LbTablePage extends LitElement {
  static override styles = [controls, boardHeaderStyles, emptyStateStyles, tablePageStyles];

  @property({ attribute: false }) boardId = '';
  @state() private keychain: Keychain | null = null;
  /** The board as the keychain was begun with. */
  @state() private begun: Board | null = null;
  @state() private isFull = false;
  /** Keychain that is asked about before it is forgotten. */
  @state() private removing = '';
  #shelf = new KeychainShelf('', localStorage);
  readonly #visit = new BoardVisit(this, { onOpened: () => {} });
  readonly #plans = new PlanReader(this);
  /** The board as it was dressed last. */
  #dress: { readonly of: Board; readonly id: string | null; readonly dressed: Board | null } | null = null;
  readonly #awake = new ScreenAwake(this);
  readonly #hands = new Hands(this, {
    stage: () => this.renderRoot.querySelector<TableStage>('main.stage > *'),
    now: () => performance.now(),
  });

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('storage', this.#onStorage);
    this.addEventListener('lb-keychain', this.#onKeychain);
  }

  override disconnectedCallback(): void {
    removeEventListener('storage', this.#onStorage);
    this.removeEventListener('lb-keychain', this.#onKeychain);
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (!changed.has('boardId')) return;
    showMountedFrom(firstHalfOf(this.boardId));
    this.#shelf = new KeychainShelf(this.boardId, localStorage);
    this.#take(new URLSearchParams(location.search).get('keychain'));
    void this.#visit.come(this.boardId);
  }

  protected override updated(): void {
    const isTying = this.keychain?.stage === 'tie' && this.begun !== null;
    if (isTying !== this.#awake.isWanted && ScreenAwake.isPossible && !this.#awake.hasFailed)
      this.#awake.want(isTying);
  }

  protected override render(): TemplateResult {
    const { session } = this.#visit;
    if (session === null || !session.isOpen)
      return emptyVisit(this.#visit, html`<a class="button" href="/">${t('board.back')}</a>`);
    const { board } = session.design.snapshot;
    const { keychain, begun } = this;
    document.title = `${keychain?.name ?? t('table.heading')} · ${board.title || t('board.untitled')}`;
    return keychain !== null && begun !== null
      ? this.#renderKeychain(keychain, begun, board)
      : this.#renderList(board, keychain !== null);
  }

  #renderBack(path: string, label: string, act?: () => void): TemplateResult {
    const go = (event: MouseEvent): void => {
      if (!isForThisTab(event)) return;
      event.preventDefault();
      if (act === undefined) goTo(path);
      else act();
    };
    return html`<a class="button" href=${path} aria-label=${label} title=${label} @click=${go}>${pageIcon('back')}</a>`;
  }

  #renderList(board: Board, isUnreadable: boolean): TemplateResult {
    const under = this.#shelf.all();
    const colourway = this.#colourwayIn(board);
    const isMissing = new URLSearchParams(location.search).has('keychain') && this.keychain === null;
    return html`<header>${this.#renderBack(`/board/${this.boardId}`, t('table.back'))}
        <h1>${t('table.heading')} · ${board.title || t('board.untitled')}</h1>${languageChoice()}</header>
      ${visitNotices(this.#visit)}
      <main class="list">
        ${isUnreadable ? html`<p class="warn" role="alert">${t('table.noBoard')}</p>` : ''}
        ${isMissing ? html`<p class="warn" role="status">${t('table.gone')}</p>` : ''}
        ${
          under.length === 0
            ? ''
            : html`<section><h2>${t('table.begun')}</h2><ul>${under.map((one) => this.#renderUnderWay(one))}</ul></section>`
        }
        <section>
          <h2>${t(under.length === 0 ? 'table.begin' : 'table.beginMore')}</h2>
          <p class="quiet">${t('table.purpose')}</p>
          ${
            colourway === null
              ? html`<p class="warn" role="alert">${t('table.noColourway')}</p>`
              : html`<form @submit=${(event: SubmitEvent) => this.#begin(event, colourway)}>
                <label for="name">${t('table.name')}</label>
                <input id="name" name="name" maxlength=${MOST_NAME} autocomplete="off" .value=${colourway.name || t('table.newName', { number: under.length + 1 })} />
                <button class="primary">${t('table.start')}</button>
              </form>`
          }
          ${this.isFull ? html`<p class="warn" role="alert">${t('table.full')}</p>` : ''}
        </section>
      </main>`;
  }

  #renderUnderWay({ id, name, stage, tied }: Keychain): TemplateResult {
    if (this.removing === id)
      return html`<li><p>${t('table.removeSure', { name })}</p><span class="actions">
        <button @click=${() => this.#forget(id)}>${t('table.removeYes')}</button>
        <button @click=${() => {
          this.removing = '';
        }}>${t('table.no')}</button></span></li>`;
    return html`<li>
      <button class="go" @click=${() => this.#go(id)}><b>${t('table.goOn', { name })}</b>
        <span class="quiet small">${stageName(stage, this.#shelf.boardOf(id))}${tied.size === 0 ? '' : html` · ${t('table.so', { tied: tied.size })}`}</span></button>
      <button aria-label=${t('table.remove')} title=${t('table.remove')} @click=${() => {
        this.removing = id;
      }}>×</button>
    </li>`;
  }

  #renderKeychain(keychain: Keychain, begun: Board, now: Board): TemplateResult {
    const { stage } = keychain;
    return html`<div class="at-table">
      <header>${this.#renderBack(`/board/${this.boardId}/table`, t('table.all'), () => this.#go(null))}
        <h1>${keychain.name}</h1>
        <button popovertarget="settings" aria-label=${t('table.more')} title=${t('table.more')}>${pageIcon('more')}</button>
        ${this.#renderSettings(keychain)}
      </header>
      <nav class="stages" aria-label=${t('table.stages')}>${STAGES.map(
        (one) =>
          html`<button aria-current=${one === stage ? 'step' : 'false'} @click=${() => this.#change({ stage: one })}>${stageName(one, begun)}</button>`,
      )}</nav>
      <main class="stage" @pointerdown=${this.#hands.onDown} @pointerup=${this.#hands.onUp} @pointercancel=${this.#hands.onCancel}>${this.#renderStage(keychain, begun)}</main>
      <div class="pads" @pointerdown=${this.#hands.onDown} @pointerup=${this.#hands.onUp} @pointercancel=${this.#hands.onCancel} @contextmenu=${(event: Event) => event.preventDefault()}>
        <button class="back" @click=${this.#hands.onClick}>${t('table.backStep')}</button>
        <button class="on primary" @click=${this.#hands.onClick}>${this.#sayOn(keychain, begun)}</button>
      </div>
      <div class="notices">${visitNotices(this.#visit)}${this.isFull ? html`<p class="notice warn" role="alert">${t('table.full')}</p>` : ''}${this.#renderChanged(keychain, begun, now)}</div>
    </div>`;
  }

  #sayOn({ stage, cut, mounted }: Keychain, begun: Board): string {
    // Nobody waits at a knot for the cutting list.
    if (stage !== 'cut' && stage !== 'mount') return t(ON[stage]);
    const cords = this.#cordsOf(begun);
    if (stage === 'cut' && cords.kind === 'found' && cords.cords.every(({ left }) => cut.includes(left)))
      return t(isHung(begun.piece) ? 'table.next.cut' : 'begin.nextCut');
    if (stage === 'mount' && cords.kind === 'found' && mounted >= mountMoves(cords.cords, begun.piece).length)
      return t('table.next.mount');
    return t(ON[stage]);
  }

  #renderStage(keychain: Keychain, board: Board): TemplateResult {
    if (keychain.stage === 'tie')
      return html`<lb-table-tie .keychain=${keychain} .board=${board}></lb-table-tie>`;
    if (keychain.stage === 'finish') return this.#renderFinish(keychain, board);
    const cords = this.#cordsOf(board);
    if (cords.kind === 'refused')
      return html`<p class="warn" role="alert">${t('panels.range', { why: cords.why })}</p>`;
    if (cords.kind === 'pending') return planPending(cords.state);
    return keychain.stage === 'cut'
      ? html`<lb-table-cut .keychain=${keychain} .board=${board} .cords=${cords.cords}></lb-table-cut>`
      : html`<lb-table-mount .keychain=${keychain} .board=${board} .cords=${cords.cords}></lb-table-mount>`;
  }

  #renderFinish(keychain: Keychain, board: Board): TemplateResult {
    const { session } = this.#visit;
    const cords = this.#cordsOf(board);
    return html`<lb-table-finish .keychain=${keychain} .board=${board} .list=${cords.kind === 'found' ? cords.list : null} .design=${session?.canEdit === true ? session.design : null}></lb-table-finish>`;
  }

  #cordsOf(board: Board): CordsState {
    const state = this.#plans.stateOf(board);
    if (state.kind !== 'found') return { kind: 'pending', state };
    const list = orRefusal(() => cutListOf(board, state.plan));
    return list.ok
      ? { kind: 'found', list: list.value, cords: cordsOf(list.value) }
      : { kind: 'refused', why: list.why };
  }

  #renderSettings({ method }: Keychain): TemplateResult {
    const isAwake = ScreenAwake.isPossible && !this.#awake.hasFailed;
    return html`<div id="settings" class="settings" popover>
      ${choiceField({
        id: 'method',
        label: t('table.tie.order'),
        value: method,
        choices: TABLE_METHODS.map((one) => [one, t(`table.tie.${one}`)] as const),
        onValue: (chosen) => this.#change({ method: chosen }),
      })}
      ${unitSwitch(readUnit(), (unit) => {
        keepUnit(unit);
        this.requestUpdate();
      })}
      ${languageChoice()}
      <p class="small quiet">${t(isAwake ? 'table.awake' : 'table.notAwake')}</p>
    </div>`;
  }

  /** Rule N5. */
  #renderChanged(keychain: Keychain, begun: Board, live: Board): TemplateResult | '' {
    const now = this.#dressed(live, keychain.colourway);
    if (now === null) return '';
    const marks = marksOf(now);
    if (marks === marksOf(begun) || marks === keychain.declined) return '';
    const design = this.#visit.session?.design;
    if (design === undefined) return '';
    const rowNow = rowFinder(design, this.#shelf.rowsOf(keychain.id));
    const { canFollow, changes, tied, names } = compareTied(begun, now, keychain.tied, rowNow);
    const follow = (): void => {
      if (!this.#shelf.keepBoard(keychain.id, now, rowTexts(design))) {
        this.isFull = true;
        return;
      }
      this.begun = now;
      this.#change({ tied, declined: '', own: renamedWay(keychain.own, names) });
    };
    return html`<p class="notice" role="status">${canFollow ? t('table.changed', { count: changes.length }) : t('table.changedStrings')}
      <button @click=${() => this.#change({ declined: marks })}>${t('table.stay')}</button>
      ${canFollow ? html`<button @click=${follow}>${t('table.follow')}</button>` : ''}</p>`;
  }

  /** The board in a colourway of it; null where there is none of that id. */
  #dressed(board: Board, id: string | null): Board | null {
    if (this.#dress?.of !== board || this.#dress.id !== id) {
      const colourway = id === null ? null : board.colourways.find((one) => one.id === id);
      const dressed = colourway === undefined ? null : { ...dressBoard(board, colourway), colourways: [] };
      this.#dress = { of: board, id, dressed };
    }
    return this.#dress.dressed;
  }

  /** What the address asks for: a colourway, or the board's own colours; null where there is no such colourway. */
  #colourwayIn(
    board: Board,
  ): { readonly id: string | null; readonly name: string; readonly board: Board } | null {
    const id = new URLSearchParams(location.search).get('colourway');
    const dressed = this.#dressed(board, id);
    if (dressed === null) return null;
    return { id, name: board.colourways.find((one) => one.id === id)?.name ?? '', board: dressed };
  }

  #begin(
    event: SubmitEvent,
    { id: colourway, board }: { readonly id: string | null; readonly board: Board },
  ): void {
    event.preventDefault();
    const typed = new FormData(event.target as HTMLFormElement).get('name');
    const keychain: Keychain = {
      id: newId(),
      name:
        (typeof typed === 'string' && typed.trim()) ||
        t('table.newName', { number: this.#shelf.all().length + 1 }),
      begunAt: Date.now(),
      colourway,
      stage: 'cut',
      method: 'rows',
      size: 'knot',
      firstHalf: firstHalfOf(this.boardId),
      cut: [],
      mounted: 0,
      finished: [],
      tied: new Set(),
      declined: '',
      own: AS_BOARD,
      marks: [],
    };
    const design = this.#visit.session?.design;
    this.isFull = !this.#shelf.begin(keychain, board, design === undefined ? [] : rowTexts(design));
    if (this.isFull) this.#shelf.remove(keychain.id);
    else this.#go(keychain.id);
  }

  #forget(id: string): void {
    this.#shelf.remove(id);
    this.removing = '';
  }

  /** Opens a keychain; null = shows all of them. */
  #go(id: string | null): void {
    const address = new URL(location.href);
    if (id === null) address.searchParams.delete('keychain');
    else address.searchParams.set('keychain', id);
    history.replaceState(history.state, '', address);
    this.#take(id);
  }

  #take(id: string | null): void {
    this.keychain = id === null ? null : this.#shelf.find(id);
    this.begun = this.keychain === null ? null : this.#shelf.boardOf(this.keychain.id);
  }

  #change(patch: Partial<Keychain>): void {
    if (this.keychain === null) return;
    this.keychain = { ...this.keychain, ...patch };
    this.isFull = !this.#shelf.keep(this.keychain);
  }

  readonly #onKeychain = ({ patch }: KeychainEvent): void => this.#change(patch);

  /** Another tab of this browser went on. */
  readonly #onStorage = ({ key }: StorageEvent): void => {
    if (!this.#shelf.isOurs(key)) return;
    this.#take(this.keychain?.id ?? null);
    this.requestUpdate();
  };
}

/** The cords of a board, or why there are none yet. */
type CordsState =
  | { readonly kind: 'found'; readonly list: CutList; readonly cords: readonly Cord[] }
  | { readonly kind: 'pending'; readonly state: Parameters<typeof planPending>[0] }
  | { readonly kind: 'refused'; readonly why: string };

/** Without a ring nothing is mounted: the band begins. */
function stageName(stage: Keychain['stage'], board: Board | null): string {
  const isBeginning = stage === 'mount' && board !== null && !isHung(board.piece);
  return t(isBeginning ? 'begin.stage' : `table.stage.${stage}`);
}
