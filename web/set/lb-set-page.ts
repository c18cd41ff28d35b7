/**
 * The matching set of a board: all colourways as finished keychains beside each other, the chosen one to change, and one shopping list.
 *
 * The keychains are tabs after the ARIA Authoring Practices Guide: arrows, Home and End move and show at once. Which one is shown
 * stands in the address, so that it is there after a reload and can be handed on.
 */
import { html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { type Command, LATER_COMMANDS } from '../../engine/document/index.ts';
import { type Board, type Colourway, isHung, SIGHTS, type Sight } from '../../engine/index.ts';
import { type BandSide, type RefusedEvent, sideButtons } from '../board/index.ts';
import { choiceField, languageChoice } from '../fields/index.ts';
import { pageIcon } from '../icons/index.ts';
import type { ShowLostEvent } from '../notices/index.ts';
import type { RenameEvent } from '../people/index.ts';
import { controls } from '../styles/index.ts';
import { type BoardSession, newId, type PersonHere, readPerson, rememberedRole } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import {
  BoardVisit,
  boardHeaderStyles,
  emptyStateStyles,
  emptyVisit,
  goTo,
  isForThisTab,
  savedSign,
  savedStrip,
  signOf,
  undoButtons,
  visitNotices,
} from '../visit/index.ts';
import { sayError, sayTitle } from '../words/index.ts';
import { firstHalfOf, PlanReader, showMountedFrom } from '../worker/index.ts';
import { isOtherCompany, renderCard } from './card.ts';
import { setPageStyles } from './lb-set-page.styles.ts';
import { isMine, type Me } from './rights.ts';
import { keyOf, Keychains, type SetKeychain, toBeMade } from './keychains.ts';
import type { PiecesEvent, RemovedEvent } from './set-events.ts';

export { LbSetColours } from './lb-set-colours.ts';
export { LbSetEditor } from './lb-set-editor.ts';
export { LbSetShopping } from './lb-set-shopping.ts';

@spoken
export class LbSetPage extends LitElement {
  static override styles = [controls, boardHeaderStyles, emptyStateStyles, setPageStyles];

  @property({ attribute: false }) boardId = '';
  @state() private chosen = '';
  @state() private side: BandSide = 'front';
  @state() private sight: Sight = 'normal';
  /** Name of the colourway that was removed here last, until something else is done. */
  @state() private removed: string | null = null;
  @state({ hasChanged: isOtherCompany }) private people: readonly PersonHere[] = [];
  @query('[role=tablist]') private list!: HTMLElement | null;
  readonly #visit = new BoardVisit(this, {
    onOpened: (session) => {
      this.people = session.people.value;
      session.people.subscribe((people) => {
        if (session === this.session) this.people = people;
      });
      this.#tellOpen();
      session.design.subscribe((_snapshot, change) => {
        // The button that undoes a removal must not undo what was done after it.
        if (change.local) this.removed = null;
      });
    },
  });
  readonly #keychains = new Keychains();
  readonly #plans = new PlanReader(this);

  override connectedCallback(): void {
    super.connectedCallback();
    this.addEventListener('lb-show-lost', this.#onShowLost);
    this.chosen = new URLSearchParams(location.search).get('colourway') ?? '';
  }

  /** The session of the board that is open; null without one. */
  get session(): BoardSession | null {
    return this.#visit.session;
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (!changed.has('boardId')) return;
    showMountedFrom(firstHalfOf(this.boardId));
    void this.#visit.open(this.boardId);
  }

  protected override render(): TemplateResult {
    const { session } = this;
    if (session === null || !session.isOpen)
      return emptyVisit(
        this.#visit,
        html`<a class="button" href="/" @click=${(event: MouseEvent) => this.#go(event, '/')}>${t('board.back')}</a>`,
      );
    const { board } = session.design.snapshot;
    const keychains = this.#plans.read((stateOf) => this.#keychains.read(board, this.sight, stateOf));
    const keychain = keychains.find((one) => keyOf(one) === this.chosen) ?? keychains[0]!;
    const me = this.#me(session);
    document.title = `${t('set.heading')} · ${sayTitle(board)} · ${t('app.name')}`;
    return html`
      ${this.#renderHeader(session, board)}
      <div class="over">${savedStrip(session)}</div>
      ${visitNotices(this.#visit)}<lb-lost-notice .session=${this.#visit.session}></lb-lost-notice>
      ${this.#renderRemoved(session)}
      ${this.chosen === '' || keyOf(keychain) === this.chosen ? nothing : html`<p class="notice" role="status">${t('set.gone')}</p>`}
      <main
        @lb-refused=${this.#onRefused}
        @lb-removed=${this.#onRemoved}
        @lb-light=${(event: Event) => event.stopPropagation()}
      >
        <section class="gallery" aria-labelledby="keychains">
          ${this.#renderBar(keychains, me)}
          <div
            role="tablist"
            aria-label=${t('set.keychains')}
            style="--count: ${keychains.length}"
            data-size=${keychains.length <= 5 ? 'few' : keychains.length <= 14 ? 'some' : 'many'}
            @keydown=${(event: KeyboardEvent) => this.#onKey(event, keychains)}
          >
            ${keychains.map((one, index) =>
              renderCard(one, {
                index,
                isChosen: one === keychain,
                side: this.side,
                me,
                people: this.people,
                onChoose: () => this.#choose(keyOf(one)),
              }),
            )}
          </div>
          ${keychains.length === 1 ? html`<p class="quiet hint">${t('set.onlyBase')}</p>` : nothing}
        </section>
        <lb-set-editor
          id="editor"
          role="tabpanel"
          aria-labelledby="tab-${keychains.indexOf(keychain)}"
          .keychain=${keychain}
          .keychains=${keychains}
          .board=${board}
          .boardId=${this.boardId}
          .design=${session.design}
          .people=${this.people}
          .me=${me}
          .side=${this.side}
          ?isDemo=${this.#visit.isDemo}
        ></lb-set-editor>
        <lb-set-shopping .board=${board} .keychains=${keychains} .me=${me} @lb-pieces=${this.#onPieces}></lb-set-shopping>
      </main>
    `;
  }

  #renderHeader(session: BoardSession, board: Board): TemplateResult {
    const back = `/board/${this.boardId}`;
    return html`<header>
      <a class="button" href=${back} @click=${(event: MouseEvent) => this.#go(event, back)} aria-label=${t('set.back')} title=${t('set.back')}>${pageIcon('back')}</a>
      <h1>${t('set.heading')}<span class="board">${sayTitle(board)}</span></h1>
      ${savedSign(signOf(session), session.closeReason)}
      <lb-people .people=${session.people} .left=${session.left} @lb-rename=${(event: RenameEvent) => this.#visit.rename(event.name)}></lb-people>
      <span class="actions">
        ${undoButtons(session.design)}
        <a class="button" href="/help" aria-label=${t('app.help')} title=${t('app.help')}>${pageIcon('help')}</a>
        ${languageChoice()}
      </span>
    </header>`;
  }

  #renderBar(keychains: readonly SetKeychain[], me: Me): TemplateResult {
    const made = toBeMade(keychains);
    const toLook = made.filter(({ marks }) => !marks.isFine && marks.plan !== null).length;
    const isOnRing = made.every(({ marks }) => isHung(marks.board.piece));
    const isPlanning = made.some(({ marks }) => marks.plan === null);
    const hasMine = keychains.some(({ colourway }) => colourway !== null && isMine(me, colourway));
    return html`<div class="bar">
      <div>
        <h2 id="keychains">${keychains.length === 1 ? t('set.keychains') : t('set.count', { count: made.length })}</h2>
        <p class="quiet lead">${t('set.lead')}</p>
        <p class=${toLook > 0 ? 'warn small' : isPlanning ? 'quiet small' : 'good small'} role="status">${toLook > 0 ? t('set.attention', { count: toLook }) : t(isPlanning ? 'set.say.planning' : isOnRing ? 'set.allFine' : 'begin.setAllFine')}</p>
      </div>
      <div class="choices" role="group" aria-label=${t('set.side')}>
        ${sideButtons(this.side, (side) => {
          this.side = side;
        })}
      </div>
      ${choiceField<Sight>({
        id: 'sight',
        label: t('set.sight'),
        value: this.sight,
        choices: SIGHTS.map((kind) => [kind, t(`check.sight.${kind}`)]),
        onValue: (kind) => {
          this.sight = kind;
        },
      })}
      ${
        me.canEdit
          ? html`<div class="add">
              ${hasMine ? nothing : html`<button class="primary" id="add-mine" @click=${() => this.#add(me, true)}>${t('set.addMine')}</button>`}
              <button id="add-one" @click=${() => this.#add(me, false)}>${t('set.addOne')}</button>
            </div>`
          : nothing
      }
    </div>`;
  }

  #renderRemoved(session: BoardSession): TemplateResult | typeof nothing {
    if (this.removed === null) return nothing;
    const undo = (): void => {
      session.design.undo();
      this.removed = null;
    };
    return html`<p class="notice" role="status">
      ${t('set.removed', { name: this.removed })}
      <button id="undo-removal" ?disabled=${!session.design.canUndo} @click=${undo}>${t('set.undo')}</button>
    </p>`;
  }

  #me(session: BoardSession): Me {
    const { standing } = this.#visit;
    const person = readPerson();
    // Without the server the role is the one that it said last time.
    const role =
      standing === undefined ? (rememberedRole(this.boardId) ?? 'co-maker') : (standing?.role ?? null);
    return { id: standing?.personId ?? person.id, name: person.name, role, canEdit: session.canEdit };
  }

  /** A colourway begins as a copy of the board's own colours: whole, and from then on by itself. */
  #add(me: Me, isForMe: boolean): void {
    const { session } = this;
    if (session === null) return;
    const { board } = session.design.snapshot;
    const id = newId();
    const colourway: Colourway = {
      id,
      name: isForMe
        ? t('set.nameMine', { name: me.name }).slice(0, 60)
        : t('set.newName', { number: board.colourways.length + 1 }),
      ...(isForMe ? { maker: { id: me.id, name: me.name } } : {}),
      colours: board.palette.map((colour) => ({ id: colour.id, name: colour.name, hex: colour.hex })),
    };
    if (this.#run({ kind: 'put-colourway', colourway })) {
      this.#choose(id);
      // The new one hangs last.
      void this.updateComplete.then(() => this.#show(board.colourways.length + 1));
    }
  }

  #run(command: Command): boolean {
    const { session } = this;
    if (session === null) return false;
    session.design.giveCommands(LATER_COMMANDS);
    session.design.stopUndoCapture();
    const result = session.design.run(command);
    if (!result.ok) this.#visit.say(t('board.refused', { why: sayError(result.error) }));
    return result.ok;
  }

  /** Whoever would remove it is asked first. */
  #tellOpen(): void {
    const { chosen } = this;
    this.session?.setPresence({ open: chosen === '' ? null : { kind: 'colourway', id: chosen } });
  }

  #choose(key: string): void {
    this.chosen = key;
    this.#tellOpen();
    const address = new URL(location.href);
    if (key === '') address.searchParams.delete('colourway');
    else address.searchParams.set('colourway', key);
    history.replaceState(history.state, '', address);
  }

  /** Brings a keychain into sight. */
  #show(index: number, hasFocus = false): void {
    const tab = this.renderRoot.querySelector<HTMLElement>(`#tab-${index}`);
    if (hasFocus) tab?.focus();
    tab?.scrollIntoView({ block: 'nearest', inline: 'nearest' });
  }

  #onKey(event: KeyboardEvent, keychains: readonly SetKeychain[]): void {
    const at = Math.max(
      0,
      keychains.findIndex((one) => keyOf(one) === this.chosen),
    );
    const isRightToLeft = getComputedStyle(this).direction === 'rtl';
    const step = isRightToLeft ? -1 : 1;
    const last = keychains.length - 1;
    const wide = this.#columns();
    const target = {
      ArrowRight: at + step,
      ArrowLeft: at - step,
      ArrowDown: at + wide,
      ArrowUp: at - wide,
      Home: 0,
      End: last,
    }[event.key];
    if (target === undefined) return;
    event.preventDefault();
    const next = Math.min(last, Math.max(0, target));
    this.#choose(keyOf(keychains[next]!));
    this.#show(next, true);
  }

  /** Keychains in one row as they are laid out now. */
  #columns(): number {
    const tabs = [...(this.list?.querySelectorAll<HTMLElement>('[role=tab]') ?? [])];
    const top = tabs[0]?.offsetTop;
    return Math.max(1, tabs.filter((tab) => tab.offsetTop === top).length);
  }

  #go(event: MouseEvent, path: string): void {
    if (!isForThisTab(event)) return;
    event.preventDefault();
    goTo(path);
  }

  /** A colourway is shown here, all else on the board. */
  readonly #onShowLost = ({ place }: ShowLostEvent): void => {
    if (place?.kind === 'colourway') this.#choose(place.id);
    else if (place !== null) goTo(`/board/${this.boardId}`);
  };

  readonly #onPieces = ({ colourway, pieces }: PiecesEvent): void => {
    const way = this.session?.design.snapshot.board.colourways.find(({ id }) => id === colourway);
    if (way !== undefined) this.#run({ kind: 'put-colourway', colourway: { ...way, pieces } });
    else if (colourway === null) this.#run({ kind: 'set-piece', patch: { pieces } });
  };

  readonly #onRefused = (event: RefusedEvent): void => {
    this.#visit.say(event.why === null ? t('set.right.viewer') : t('board.refused', { why: event.why }));
  };

  readonly #onRemoved = (event: RemovedEvent): void => {
    this.removed = event.name;
    this.#choose('');
  };
}
