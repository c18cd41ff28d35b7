/**
 * Making one keychain from a board, with a phone propped against a cup and both hands busy: keychains under way, and of the chosen one
 * the stages cut, mount, tie, finish.
 *
 * Which keychain it is stands in the address, so that it is there after a reload. The two large buttons belong to the page and stay
 * where they are; what they do is up to the stage.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Board, type CutList, compareTied, cutListOf, isHung, renamedWay } from '../../engine/index.ts';
import { choiceField, languageChoice, unitSwitch } from '../fields/index.ts';
import { pageIcon } from '../icons/index.ts';
import { ScreenAwake } from '../panels/index.ts';
import { usePart } from '../parts/index.ts';
import { controls } from '../styles/index.ts';
import { newId } from '../sync/index.ts';
import { currentLanguage, spoken, t } from '../text/index.ts';
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
import { orRefusal, sayTitle } from '../words/index.ts';
import { firstHalfOf, PlanReader, planPending, showMountedFrom } from '../worker/index.ts';
import { cutTogether, keepCut, MOST_AT_ONCE, newBatch } from './batch.ts';
import { sayChanges } from './changed-knots.ts';
import { boardToFollow, dressedBoard, keptMarks } from './board-now.ts';
import { type Cord, cordsOf, foldedInMiddle, middleWaste, mountMoves } from './cords.ts';
import { Feedback, keepFeedback, ownDevice, readFeedback } from './feedback.ts';
import { feedbackChoice } from './feedback-choice.ts';
import { codeIn } from './hand-over.ts';
import { Hands } from './hands.ts';
import type { KeychainEvent } from './keychain-event.ts';
import { type Keychain, KeychainShelf, STAGES, TABLE_METHODS } from './keychain-shelf.ts';
import type { LbHandOver } from './lb-hand-over.ts';
import { tablePageStyles } from './lb-table-page.styles.ts';
import { rowFinder, rowTexts } from './row-addresses.ts';
import type { TableStage } from './stage.ts';
import { changeView, viewChoice } from './view-choice.ts';
import { firstHalfIn, type View } from './views.ts';

export { LbHangingStrip } from './lb-hanging-strip.ts';
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
/** Whether it was said that the address has no https. */
const PLAIN_KEY = 'larkboard.table-plain';

@spoken
export class LbTablePage extends LitElement {
  static override styles = [controls, boardHeaderStyles, emptyStateStyles, tablePageStyles];

  @property({ attribute: false }) boardId = '';
  @state() private keychain: Keychain | null = null;
  /** The board as the keychain was begun with. */
  @state() private begun: Board | null = null;
  @state() private isFull = false;
  /** Whether a code is being used that brings a keychain along. */
  @state() private isArriving = false;
  /** What came of that, where it is not the keychain itself. */
  @state() private arrival = '';
  @state() private isPlainTold = isSecureContext || localStorage.getItem(PLAIN_KEY) !== null;
  /** How many others a cord that is cut is cut for as well. */
  @state() private together = 0;
  @state() private feedback = readFeedback();
  @state() private isSetting = false;
  /** Keychain that is asked about before it is forgotten. */
  @state() private removing = '';
  #shelf = new KeychainShelf('', localStorage);
  readonly #visit = new BoardVisit(this, { onOpened: () => {} });
  readonly #plans = new PlanReader(this);
  readonly #awake = new ScreenAwake(this);
  readonly #feedback = new Feedback(ownDevice(), currentLanguage);
  readonly #hands = new Hands(this, {
    stage: () => this.renderRoot.querySelector<TableStage>('main.stage > *'),
    now: () => performance.now(),
  });

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('storage', this.#onStorage);
    // Browsers know their voices only some time after the page is there.
    if ('speechSynthesis' in globalThis) speechSynthesis.addEventListener('voiceschanged', this.#onVoices);
    this.addEventListener('lb-keychain', this.#onKeychain);
  }

  override disconnectedCallback(): void {
    removeEventListener('storage', this.#onStorage);
    if ('speechSynthesis' in globalThis) speechSynthesis.removeEventListener('voiceschanged', this.#onVoices);
    this.removeEventListener('lb-keychain', this.#onKeychain);
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (!changed.has('boardId')) return;
    showMountedFrom(firstHalfOf(this.boardId));
    this.#shelf = new KeychainShelf(this.boardId, localStorage);
    this.#take(new URLSearchParams(location.search).get('keychain'));
    const code = codeIn(location.hash);
    if (code === null) void this.#visit.come(this.boardId);
    else void this.#arrive(this.boardId, code);
  }

  /** By a code from another device, which goes out of the address: it works once. Rule N80. */
  async #arrive(boardId: string, code: string): Promise<void> {
    history.replaceState(history.state, '', location.pathname + location.search);
    this.isArriving = true;
    this.arrival = '';
    await usePart('take-over', async ({ takeOver }) => {
      const came = await takeOver(boardId, this.#shelf, code, newId());
      if (boardId !== this.boardId) return;
      if (came.kind === 'here') this.#go(came.id);
      else if (came.kind === 'full') this.isFull = true;
      else this.arrival = came.sentence;
    });
    this.isArriving = false;
    if (boardId === this.boardId) await this.#visit.come(boardId);
  }

  protected override updated(): void {
    const isTying = this.keychain?.stage === 'tie' && this.begun !== null;
    if (isTying !== this.#awake.isWanted && ScreenAwake.isPossible && !this.#awake.hasFailed)
      this.#awake.want(isTying);
  }

  protected override render(): TemplateResult {
    if (this.isArriving) return html`<main class="list"><p role="status">${t('table.arriving')}</p></main>`;
    const { session } = this.#visit;
    const board = session?.isOpen === true ? session.design.snapshot.board : null;
    const { keychain, begun } = this;
    const titled = board ?? begun;
    const title = titled === null ? '' : sayTitle(titled);
    document.title = `${keychain?.name ?? t('table.heading')} · ${title}`;
    // What is under way goes on whatever becomes of the board.
    if (keychain !== null && begun !== null) return this.#renderKeychain(keychain, begun, board);
    if (board !== null) return this.#renderList(board, keychain !== null);
    const under = this.#shelf.all();
    return html`${this.#renderArrival()}${emptyVisit(this.#visit, html`<a class="button" href="/">${t('board.back')}</a>`)}
      ${under.length === 0 ? '' : html`<div class="list">${this.#renderUnder(under)}</div>`}`;
  }

  #renderArrival(): TemplateResult | '' {
    return this.arrival === '' ? '' : html`<p class="notice warn" role="alert">${this.arrival}</p>`;
  }

  #renderUnder(under: readonly Keychain[]): TemplateResult {
    return html`<section><h2>${t('table.begun')}</h2><ul>${under.map((one) => this.#renderUnderWay(one))}</ul></section>`;
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
        <h1>${t('table.heading')} · ${sayTitle(board)}</h1>${languageChoice()}</header>
      ${visitNotices(this.#visit)}${this.#renderArrival()}${this.#renderPlain()}
      <main class="list">
        ${isUnreadable ? html`<p class="warn" role="alert">${t('table.noBoard')}</p>` : ''}
        ${isMissing ? html`<p class="warn" role="status">${t('table.gone')}</p>` : ''}
        ${under.length === 0 ? '' : this.#renderUnder(under)}
        <section>
          <h2>${t(under.length === 0 ? 'table.begin' : 'table.beginMore')}</h2>
          <p class="quiet">${t('table.purpose')}</p>
          ${
            colourway === null
              ? html`<p class="warn" role="alert">${t('table.noColourway')}</p>`
              : html`<form @submit=${(event: SubmitEvent) => this.#begin(event, colourway)}>
                <label for="name">${t('table.name')}</label>
                <input id="name" name="name" maxlength=${MOST_NAME} autocomplete="off" .value=${colourway.name || t('table.newName', { number: under.length + 1 })} />
                <label for="many">${t('table.howMany')}</label>
                <input id="many" name="many" type="number" min="1" max=${MOST_AT_ONCE} value="1" required />
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

  #renderKeychain(keychain: Keychain, begun: Board, now: Board | null): TemplateResult {
    const { stage } = keychain;
    return html`<div class="at-table">
      <header>${this.#renderBack(`/board/${this.boardId}/table`, t('table.all'), () => this.#go(null))}
        <h1>${keychain.name}</h1>
        <button popovertarget="settings" aria-label=${t('table.more')} title=${t('table.more')}>${pageIcon('more')}</button>
        ${this.#renderSettings(keychain, begun)}
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
      <div class="notices">${visitNotices(this.#visit)}${this.isFull ? html`<p class="notice warn" role="alert">${t('table.full')}</p>` : ''}${this.#renderArrival()}${this.#renderPlain()}${now === null ? '' : this.#renderChanged(keychain, begun, now)}</div>
      <lb-hand-over .boardId=${this.boardId} .keychainId=${keychain.id}></lb-hand-over>
    </div>`;
  }

  /** Rule N84. */
  #renderPlain(): TemplateResult | '' {
    if (this.isPlainTold) return '';
    const tell = (): void => {
      this.isPlainTold = true;
      keepTold();
    };
    return html`<p class="notice" role="status">${t('table.plain')} <button @click=${tell}>${t('table.plainOk')}</button></p>`;
  }

  readonly #onPhone = (): unknown =>
    usePart('hand-over', () => this.renderRoot.querySelector<LbHandOver>('lb-hand-over')?.show());

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
      return html`<lb-table-tie .keychain=${keychain} .board=${board} .choice=${this.feedback}></lb-table-tie>`;
    if (keychain.stage === 'finish') return this.#renderFinish(keychain, board);
    const cords = this.#cordsOf(board);
    if (cords.kind === 'refused')
      return html`<p class="warn" role="alert">${t('panels.range', { why: cords.why })}</p>`;
    if (cords.kind === 'pending') return planPending(cords.state);
    return keychain.stage === 'cut'
      ? html`<lb-table-cut .keychain=${keychain} .board=${board} .cords=${cords.cords} .together=${this.together} .waste=${cords.waste}></lb-table-cut>`
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
      ? {
          kind: 'found',
          list: list.value,
          cords: this.#foldedAs(cordsOf(list.value)),
          waste: middleWaste(cordsOf(list.value)),
        }
      : { kind: 'refused', why: list.why };
  }

  #foldedAs(cords: readonly Cord[]): readonly Cord[] {
    return this.keychain?.isMiddle === true ? foldedInMiddle(cords) : cords;
  }

  #renderSettings(keychain: Keychain, begun: Board): TemplateResult {
    // Nobody sees it while one ties, and all of it would be worked out with every step.
    const onToggle = ({ newState }: ToggleEvent): void => {
      this.isSetting = newState === 'open';
    };
    return html`<div id="settings" class="settings" popover @beforetoggle=${onToggle}>${this.isSetting ? this.#renderChoices(keychain, begun) : ''}</div>`;
  }

  #renderChoices(keychain: Keychain, begun: Board): TemplateResult {
    const isAwake = ScreenAwake.isPossible && !this.#awake.hasFailed;
    return html`
      ${choiceField({
        id: 'method',
        label: t('table.tie.order'),
        value: keychain.method,
        choices: TABLE_METHODS.map((one) => [one, t(`table.tie.${one}`)] as const),
        onValue: (chosen) => this.#change({ method: chosen }),
      })}
      ${viewChoice(keychain, begun, (view) => this.#see(view))}
      ${unitSwitch(readUnit(), (unit) => {
        keepUnit(unit);
        this.requestUpdate();
      })}
      ${feedbackChoice(this.#feedback, this.feedback, (choice) => {
        this.feedback = choice;
        keepFeedback(choice);
      })}
      ${languageChoice()}
      <button popovertarget="settings" popovertargetaction="hide" @click=${this.#onPhone}>${t('table.phone')}</button>
      <p class="small quiet">${t(isAwake ? 'table.awake' : 'table.notAwake')}</p>`;
  }

  #see(view: View): void {
    const { keychain, begun } = this;
    if (keychain === null || begun === null) return;
    const cords = this.#cordsOf(begun);
    const change = changeView(keychain, begun, cords.kind === 'found' ? cords.cords : null, view);
    if (change === null) return;
    const { patch, board } = change;
    if (board !== null && !this.#shelf.keepBoard(keychain.id, board)) {
      this.isFull = true;
      return;
    }
    this.begun = board ?? begun;
    this.#change(patch);
    showMountedFrom(firstHalfIn(view));
  }

  /** Rule N5. */
  #renderChanged(keychain: Keychain, begun: Board, live: Board): TemplateResult | '' {
    const now = boardToFollow(live, keychain.colourway, keychain.view);
    if (now === null) return '';
    const marks = keptMarks(now);
    if (marks === keptMarks(begun) || marks === keychain.declined) return '';
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
    return html`<p class="notice" role="status">${canFollow ? html`${t('table.changed', { count: changes.length })} ${sayChanges(changes)}` : t('table.changedStrings')}
      <button @click=${() => this.#change({ declined: marks })}>${t('table.stay')}</button>
      ${canFollow ? html`<button @click=${follow}>${t('table.follow')}</button>` : ''}</p>`;
  }

  /** What the address asks for: a colourway, or the board's own colours; null where there is no such colourway. */
  #colourwayIn(
    board: Board,
  ): { readonly id: string | null; readonly name: string; readonly board: Board } | null {
    const id = new URLSearchParams(location.search).get('colourway');
    const dressed = dressedBoard(board, id);
    if (dressed === null) return null;
    return { id, name: board.colourways.find((one) => one.id === id)?.name ?? '', board: dressed };
  }

  #begin(
    event: SubmitEvent,
    { id: colourway, board }: { readonly id: string | null; readonly board: Board },
  ): void {
    event.preventDefault();
    const data = new FormData(event.target as HTMLFormElement);
    const typed = data.get('name');
    const all = newBatch({
      name: typeof typed === 'string' ? typed : '',
      many: Number(data.get('many')),
      before: this.#shelf.all().length,
      colourway,
      firstHalf: firstHalfOf(this.boardId),
      now: Date.now(),
      newId,
    });
    const design = this.#visit.session?.design;
    const rows = design === undefined ? [] : rowTexts(design);
    this.isFull = !all.every((one) => this.#shelf.begin(one, board, rows));
    if (this.isFull) for (const { id } of all) this.#shelf.remove(id);
    else this.#go(all[0]!.id);
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
    if (this.keychain === null) return;
    showMountedFrom(this.keychain.firstHalf);
    this.together = cutTogether(this.#shelf, this.keychain).length;
  }

  #change(patch: Partial<Keychain>): void {
    if (this.keychain === null) return;
    this.keychain = { ...this.keychain, ...patch };
    const others = patch.cut === undefined ? [] : cutTogether(this.#shelf, this.keychain);
    const hasRoom = this.#shelf.keep(this.keychain);
    this.isFull = !(keepCut(this.#shelf, others, this.keychain.cut) && hasRoom);
  }

  readonly #onKeychain = ({ patch }: KeychainEvent): void => this.#change(patch);

  readonly #onVoices = (): void => this.requestUpdate();

  /** Another tab of this browser went on. */
  readonly #onStorage = ({ key }: StorageEvent): void => {
    if (!this.#shelf.isOurs(key)) return;
    this.#take(this.keychain?.id ?? null);
    this.requestUpdate();
  };
}

/** Where the storage is full, it is said again at the next visit. */
function keepTold(): void {
  try {
    localStorage.setItem(PLAIN_KEY, '1');
  } catch (error) {
    if (!(error instanceof DOMException)) throw error;
  }
}

/** The cords of a board, or why there are none yet. */
type CordsState =
  /** `waste`: mm of thread that folding all in the middle takes more. */
  | {
      readonly kind: 'found';
      readonly list: CutList;
      readonly cords: readonly Cord[];
      readonly waste: number;
    }
  | { readonly kind: 'pending'; readonly state: Parameters<typeof planPending>[0] }
  | { readonly kind: 'refused'; readonly why: string };

/** Without a ring nothing is mounted: the band begins. */
function stageName(stage: Keychain['stage'], board: Board | null): string {
  const isBeginning = stage === 'mount' && board !== null && !isHung(board.piece);
  return t(isBeginning ? 'begin.stage' : `table.stage.${stage}`);
}
