/** One board: its title and state above, the board in the middle, what the engine says beside it. */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { canManage, canWrite, type LostPlace, type TextPlace } from '../../engine/document/index.ts';
import {
  type BoardChoice,
  boardChoice,
  type ColourChosenEvent,
  type LbBoard,
  type LightEvent,
  type Lit,
  NOTHING_CHOSEN,
  PanelsBeside,
  type PointEvent,
  type Pointed,
  type RefusedEvent,
  type ShownBoard,
  shownBoard,
  type TexturesEvent,
} from '../board/index.ts';
import { provide, Subject } from '../context/index.ts';
import { languageChoice } from '../fields/index.ts';
import { FileDrop, type LoadBoardEvent } from '../files/index.ts';
import { pageIcon } from '../icons/index.ts';
import type { ShowLostEvent } from '../notices/index.ts';
import type { DressEvent } from '../panels/index.ts';
import type { FollowEvent, RenameEvent } from '../people/index.ts';
import { endFirstSight, fetchMeanwhile, usePart, whenSeen } from '../parts/index.ts';
import type { LbReview } from '../proposals/index.ts';
import { closeFolded, controls, placeFolded } from '../styles/index.ts';
import { type BoardSession, forgetAhead, rememberedRole } from '../sync/index.ts';
import { type OpenTalk, type PageHandles, pageHandles } from '../talk/index.ts';
import { spoken, t } from '../text/index.ts';
import {
  BoardVisit,
  boardHeaderStyles,
  emptyStateStyles,
  emptyVisit,
  goTo,
  isForThisTab,
  type OpenedBoard,
  savedSign,
  savedStrip,
  signOf,
  undoButtons,
  visitNotices,
} from '../visit/index.ts';
import { sayError, sayTitle } from '../words/index.ts';
import { AfterFrame } from './after-frame.ts';
import type { ColourwayLook } from './colourway-look.ts';
import type { DemoCopy } from './demo-copy.ts';
import { boardPageStyles } from './lb-board-page.styles.ts';
import type { BoardWays } from './page-commands.ts';

const TITLE: TextPlace = { of: 'title' };

@spoken
export class LbBoardPage extends LitElement {
  static override styles = [controls, boardHeaderStyles, boardPageStyles, emptyStateStyles];

  @property({ attribute: false }) boardId = '';
  /** Id of whom this person follows; null = nobody. */
  @state() private following: string | null = null;
  /** What whom one follows is called now. */
  @state() private followed = '';
  /** Null until it is open, or where it cannot be fetched. */
  @state() private talk: OpenTalk | null = null;
  /** The colourway in which the board is only looked at; null = its own colours. */
  @state() private dressed: ColourwayLook | null = null;
  readonly #visit = new BoardVisit(this, {
    prepare: async ({ isDemo }) => {
      if (isDemo) await this.#prepareDemo();
      return isDemo && this.#demo !== null;
    },
    onOpened: (session, opened) => this.#opened(session, opened),
    onChange: (session) => this.#onBoard(session),
    onLeave: (session) => this.#leave(session),
    onShow: (knots) => this.#lit.set({ knots, isFollowed: true }),
  });
  readonly #lit = new Subject<Lit | null>(null);
  readonly #pointed = new Subject<Pointed | null>(null);
  readonly #choice = new Subject<BoardChoice>(NOTHING_CHOSEN);
  readonly #handles = new Subject<PageHandles | null>(null);
  readonly #shown = new Subject<ShownBoard | null>(null);
  /** The panels are told of an edit once its picture is there. */
  readonly #afterFrame = new AfterFrame(this, () => this.#tellBoard());
  readonly #drop = new FileDrop(this, {
    isWanted: () => this.session?.keepsEdits === true,
    onFile: (file) => void this.#onDropped(file),
    onProblem: (sentence) => this.#visit.say(sentence),
  });

  /** Null until a demo board was open, or where it cannot be fetched: then one may only look. */
  #demo: DemoCopy | null = null;
  /** Whether there was a board to see, or a word on why there is none. */
  #isSeen = false;

  constructor() {
    super();
    provide(this, boardChoice, this.#choice);
    provide(this, pageHandles, this.#handles);
    provide(this, shownBoard, this.#shown);
    this.addEventListener('lb-proposals', this.#onProposals);
    this.addEventListener('lb-review', this.#onReview);
    this.addEventListener('lb-show-lost', ({ place }: ShowLostEvent) => this.#showLost(place));
  }

  get #board(): LbBoard | null {
    return this.renderRoot.querySelector('lb-board');
  }

  /** The session of the board that is open; null without one. */
  get session(): BoardSession | null {
    return this.#visit.session;
  }

  /** The board and the ways from it, for the list of commands; null while there is none. */
  get ways(): (BoardWays & { readonly board: LbBoard }) | null {
    const [board, handles] = [this.#board, this.#handles.value];
    if (board === null || handles === null) return null;
    const go = (path: string): unknown => this.#demo?.mayLeave() !== false && goTo(path);
    return { board, handles, go, share: this.#onShare, inOut: this.#onInOut };
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('boardId')) void this.#visit.come(this.boardId);
  }

  protected override updated(): void {
    if (this.#isSeen) return;
    const isThere = this.session?.isOpen === true;
    const isOver = this.#visit.message !== '' || (this.session?.closeReason ?? null) !== null;
    if (!isThere && !isOver) return;
    this.#isSeen = true;
    // The board is drawn with the next frame.
    requestAnimationFrame(() => requestAnimationFrame(endFirstSight));
    forgetAhead();
  }

  protected override render(): TemplateResult {
    const { session } = this;
    if (session === null || !session.isOpen)
      return emptyVisit(
        this.#visit,
        html`${this.#renderLeft()}<a class="button" href="/" @click=${this.#onHome}>${t('board.back')}</a>`,
      );
    const { board } = session.design.snapshot;
    const { dressed } = this;
    document.title = `${sayTitle(board)} · ${t('app.name')}`;
    return html`
      ${this.#renderHeader(session)}
      <lb-lost-notice .session=${session}></lb-lost-notice>
      <main @lb-sheet=${this.#onSheet} @lb-refused=${this.#onRefused} @lb-light=${this.#onLight} @lb-colour=${this.#onColour} @lb-point=${this.#onPoint} @lb-textures=${this.#onTextures} @lb-dress=${(event: DressEvent) => this.#dress(event.colourway)}>
        <lb-board @wheel=${this.#onOwnWay} @pointerdown=${this.#onOwnWay} @keydown=${this.#onOwnWay} .session=${session} .dressed=${dressed?.design ?? null} .lit=${this.#lit} .talk=${this.talk?.desk.here ?? null}>${this.talk?.pins() ?? ''}${savedStrip(session, 'strip')}${this.#renderNotices()}${this.#renderAsk(session)}<lb-begin slot="ask"></lb-begin></lb-board>
        <aside>
          <lb-panels></lb-panels>
        </aside>
      </main>
      ${this.#drop.render()}
      <lb-in-out @lb-load-board=${this.#onLoadBoard} @lb-board-deleted=${this.#onDeleted}></lb-in-out>
      <lb-links-panel></lb-links-panel>
      <lb-review></lb-review>
    `;
  }

  /** Where the board is gone: what this browser still holds of it. */
  #renderLeft(): TemplateResult | '' {
    const { left } = this.#visit;
    if (left.length === 0) return '';
    void usePart('left-copies', () => {});
    return html`<lb-left-copies .boardId=${this.boardId} .visit=${this.#visit} .left=${left}></lb-left-copies>`;
  }

  #renderHeader(session: BoardSession): TemplateResult {
    const { design } = session;
    const name = sayTitle(design.snapshot.board);
    return html`<header>
      <a class="button" href="/" @click=${this.#onHome} aria-label=${t('board.back')} title=${t('board.back')}>${pageIcon('back')}</a>
      <lb-text-field class="title" afloat .design=${design} .place=${TITLE} .label=${t('board.title')} .placeholder=${name} ?disabled=${!session.canEdit}>${name}</lb-text-field>
      ${savedSign(signOf(session), session.closeReason)}
      <lb-people .people=${session.people} .left=${session.left} .following=${this.following} @lb-follow=${this.#onFollow} @lb-rename=${(event: RenameEvent) => this.#visit.rename(event.name)}></lb-people>
      <span class="actions">
        ${undoButtons(this.dressed?.design ?? design)}
        <a class="button" href="/board/${this.boardId}/set" title=${t('board.set')} @click=${this.#onSet}>${pageIcon('set')}<span class="name">${t('board.set')}</span></a>
        <button class="more" popovertarget="more" aria-label=${t('board.more')} title=${t('board.more')}>${pageIcon('more')}</button>
        <span id="more" class="folded" popover @toggle=${placeFolded} @click=${closeFolded}>
          <button aria-haspopup="dialog" title=${t('links.share')} @click=${this.#onShare}>${pageIcon('share')}<span class="name">${t('links.share')}</span></button>
          <a class="button" href="/board/${this.boardId}/table" title=${t('board.table')}>${pageIcon('table')}<span class="name">${t('board.table')}</span></a>
          <button aria-haspopup="dialog" title=${t('board.inOut')} @click=${this.#onInOut}>${pageIcon('paper')}<span class="name">${t('board.inOut')}</span></button>
          <a class="button" href="/help" title=${t('app.help')}>${pageIcon('help')}<span class="name">${t('app.help')}</span></a>
          ${languageChoice()}
        </span>
      </span>
    </header>`;
  }

  /** All that is said of the board lies over its lower edge: nothing moves for it, and what is below can be tied through it. */
  #renderNotices(): TemplateResult {
    const { isDemo } = this.#visit;
    return html`<div slot="notices" class="notices">
      ${this.#demo?.render() ?? (isDemo ? html`<p class="notice">${t('board.readOnly')}</p>` : '')}
      ${visitNotices(this.#visit)}${this.dressed?.render() ?? ''}
      ${this.#renderFollowing()}
      <lb-proposal-bar></lb-proposal-bar>
    </div>`;
  }

  /** What whoever came by a link is called, asked once; it lies over the board's lower edge, and the board goes on. */
  #renderAsk(session: BoardSession): TemplateResult | '' {
    if (!this.#visit.asksName) return '';
    return html`<lb-name-box slot="ask" .people=${session.people} .isTaken=${(name: string) => session.isNameTaken(name)} @lb-rename=${(event: RenameEvent) => this.#visit.rename(event.name)}></lb-name-box>`;
  }

  #renderFollowing(): TemplateResult | '' {
    if (this.following === null) return '';
    return html`<p class="notice" role="status">
      ${t('people.following', { name: this.followed })}
      <button @click=${this.#onOwnWay}>${t('people.stop')}</button>
    </p>`;
  }

  #run(session: BoardSession, command: Parameters<BoardSession['design']['run']>[0]): void {
    const result = session.design.run(command);
    if (!result.ok) this.#visit.say(t('board.refused', { why: sayError(result.error) }));
  }

  #opened(session: BoardSession, { canEdit, isDemo, isWhole, standing }: OpenedBoard): void {
    this.#demo?.opened(session);
    this.following = null;
    session.people.subscribe(() => this.#follow(session));
    this.#choice.set({ ...this.#choice.value, colour: null });
    this.#lit.set(null);
    this.#pointed.set(null);
    const panels = new PanelsBeside();
    panels.open.subscribe(() => this.#lit.set(null));
    // Where the server keeps no links, whoever may write counts as an owner.
    const mayManage =
      standing === null ? session.canEdit : standing !== undefined && canManage(standing.role);
    const isOwner = isWhole && mayManage;
    const [lit, pointed] = [this.#lit, this.#pointed];
    this.#handles.set({ session, standing, isDemo, isOwner, talk: null, panels, lit, pointed });
    // Without first steps, proposals and talk the board is as good, and comes sooner.
    void whenSeen().then(() => {
      for (const name of ['panels', 'one-tab-stop'] as const) void fetchMeanwhile(name);
      if (session !== this.session) return;
      if (canEdit) void usePart('begin', () => {}, true);
      if (standing !== null && !isDemo) void usePart('proposals', () => {}, true);
      void this.#openTalk(session);
    });
    const dressed = new URLSearchParams(location.search).get('colourway');
    if (dressed) void this.#dress(dressed);
  }

  /** What this browser held of a deleted board could be saved for as long as it was in sight; then it is forgotten too. */
  #leave(session: BoardSession): boolean {
    const { talk } = this;
    const isDeleted = session.closeReason === 'deleted';
    this.#demo?.closed();
    this.dressed?.dispose();
    this.dressed = null;
    this.talk = null;
    if (isDeleted) void talk?.forget();
    else talk?.dispose();
    return isDeleted;
  }

  /** Where it cannot be fetched, the page says that one may only look. */
  async #prepareDemo(): Promise<void> {
    if (this.#demo !== null) return;
    await usePart(
      'demo-copy',
      ({ DemoCopy }) => {
        this.#demo ??= new DemoCopy(this, () => this.#board);
      },
      true,
    );
  }

  async #openTalk(session: BoardSession): Promise<void> {
    const missing = await usePart(
      'talk',
      ({ startTalk }) => {
        const handles = this.#handles.value;
        if (this.session !== session || handles?.session !== session) return;
        const { standing, isDemo } = this.#visit;
        const role = standing === undefined ? rememberedRole(this.boardId) : (standing?.role ?? null);
        const canTalk = role === null ? !isDemo : canWrite(role, 'talk');
        const isOwner = role !== null && canManage(role);
        this.talk = startTalk(this, handles, { canTalk, isOwner }, () => this.requestUpdate());
        this.#handles.set({ ...handles, talk: this.talk.desk });
      },
      true,
    );
    // The board is there without it; the tab says what is missing, and it comes with the connection.
    if (missing === 'unreachable')
      addEventListener('online', () => this.session === session && void this.#openTalk(session), {
        once: true,
      });
  }

  /** Keeps in sight what the followed one sees; forgets them when they have left. */
  #follow(session: BoardSession): void {
    if (this.following === null || session !== this.session) return;
    const followed = session.people.value.find(({ presence }) => presence.person.id === this.following);
    if (followed === undefined) {
      this.following = null;
      return;
    }
    const { person, view } = followed.presence;
    this.followed = person.name;
    if (view !== null) this.#board?.showRows(view);
  }

  readonly #onFollow = (event: FollowEvent): void => {
    this.following = event.person;
    if (this.session !== null) this.#follow(this.session);
  };

  readonly #onOwnWay = (): void => {
    this.following = null;
  };

  /** Brings what was changed into sight. */
  #showLost(place: LostPlace | null): void {
    const handles = this.#handles.value;
    if (place === null) {
      this.#lit.set(null);
      return;
    }
    switch (place.kind) {
      case 'knots':
        this.#lit.set({ knots: place.knots, isFollowed: true });
        break;
      case 'strings':
        this.#lit.set({ strings: place.strings });
        break;
      case 'row':
        this.#board?.showRows({ fromRow: place.row, toRow: place.row });
        break;
      case 'colourway':
        goTo(`/board/${this.boardId}/set?colourway=${encodeURIComponent(place.id)}`);
        break;
      case 'title':
        this.renderRoot.querySelector<HTMLElement>('.title')?.focus();
        break;
      default:
        handles?.panels.show(place.kind);
    }
  }

  readonly #onHome = (event: MouseEvent): void => this.#go(event, '/');

  readonly #onSet = (event: MouseEvent): void => this.#go(event, `/board/${this.boardId}/set`);

  #go(event: MouseEvent, path: string): void {
    if (!isForThisTab(event)) return;
    event.preventDefault();
    if (this.#demo?.mayLeave() !== false) goTo(path);
  }

  readonly #onShare = (): unknown => usePart('links', () => this.#showDialog('lb-links-panel'));

  readonly #onInOut = (): unknown => usePart('in-out', () => this.#showDialog('lb-in-out'));

  async #showDialog(name: string): Promise<void> {
    const dialog = this.renderRoot.querySelector<LitElement & { show(): unknown }>(name);
    await dialog?.updateComplete;
    await dialog?.show();
  }

  /** Shows the board in a colourway; null = in its own colours. */
  readonly #dress = (colourway: string | null): unknown => {
    const { session } = this;
    return usePart('colourway-look', ({ ColourwayLook, tellAddress }) => {
      // It was asked for on the board that was here then.
      if (session !== this.session) return;
      tellAddress(colourway);
      this.dressed?.dispose();
      this.dressed =
        session === null || colourway === null ? null : new ColourwayLook(session, colourway, this.#dress);
      if (session !== null) this.#onBoard(session);
    });
  };

  /** The board that is shown may be another one. */
  #onBoard(session: BoardSession): void {
    if (!session.isOpen || session !== this.session) return;
    if (this.#shown.value?.design === this.#designOf(session)) this.#afterFrame.later();
    else this.#tellBoard();
  }

  #designOf(session: BoardSession): BoardSession['design'] {
    return this.dressed?.design ?? session.design;
  }

  #tellBoard(): void {
    const { session } = this;
    // Another board may be on its way by now.
    if (session?.isOpen !== true) return;
    const before = this.#shown.value;
    const design = this.#designOf(session);
    const { board } = design.snapshot;
    if (board === before?.board && design === before.design) return;
    this.#shown.set({ board, design, canEdit: session.canEdit && this.dressed === null });
    // The choice of textures is remembered, and others change colours.
    if (board.palette !== before?.board.palette)
      void usePart(
        'panels',
        ({ chosenTextures }) => this.#useTextures(chosenTextures(board.palette) ?? null),
        true,
      );
  }

  #useTextures(textures: BoardChoice['textures']): void {
    this.#choice.set({ ...this.#choice.value, textures });
  }

  readonly #onDeleted = async (): Promise<void> => {
    const { talk } = this;
    this.talk = null;
    await Promise.all([this.#visit.leaveAndForget(), talk?.forget()]);
    goTo('/');
  };

  readonly #onLoadBoard = ({ command }: LoadBoardEvent): void => {
    if (this.#visit.session !== null) this.#run(this.#visit.session, command);
  };

  async #onDropped(file: File): Promise<void> {
    if (/\.zip$/i.test(file.name)) {
      this.#visit.say(t('drop.archive'));
      return;
    }
    await usePart('read-board', async ({ readBoardOf, loadBoard }) => {
      const read = await readBoardOf(file);
      const { session } = this;
      this.#visit.say(read.ok ? '' : t('start.badFile', { why: read.why }));
      if (session === null || !read.ok) return;
      this.#run(session, loadBoard(read.value));
      if (this.#visit.message === '') this.#visit.say(t('board.loaded'));
    });
  }

  readonly #onRefused = (event: RefusedEvent): void => {
    this.#visit.say(
      event.why === null
        ? (this.dressed?.why ?? t('board.readOnly'))
        : t('board.refused', { why: event.why }),
    );
  };

  readonly #onLight = (event: LightEvent): void => {
    this.#lit.set(event.lit);
  };

  readonly #onPoint = (event: PointEvent): void => {
    this.#pointed.set(event.at);
  };

  readonly #onTextures = (event: TexturesEvent): void => {
    this.#useTextures(event.textures);
  };

  readonly #onColour = ({ colour }: ColourChosenEvent): void => {
    this.#choice.set({ ...this.#choice.value, colour });
  };

  readonly #onProposals = (): void => {
    this.#handles.value?.panels.show('proposals');
  };

  readonly #onSheet = (): void => {
    const { sheet } = this.#handles.value?.panels ?? {};
    sheet?.set(sheet.value === 'closed' ? 'half' : 'closed');
  };

  readonly #onReview = ({ proposal }: HTMLElementEventMap['lb-review']): unknown =>
    usePart('review', () => this.renderRoot.querySelector<LbReview>('lb-review')?.show(proposal));
}
