/** One board: its title and state above, the board in the middle, what the engine says beside it. */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { canManage, canWrite } from '../../engine/document/index.ts';
import { type Board, parseBoard } from '../../engine/index.ts';
import type { PointEvent, RefusedEvent } from '../board/events.ts';
import type { LbBoard } from '../board/lb-board.ts';
import type { Lit } from '../board/lit-set.ts';
import type { Textures } from '../board/textures.ts';
import { FileDrop } from '../files/file-drop.ts';
import type { LoadBoardEvent } from '../files/load-board-event.ts';
import { pageIcon } from '../icons/icons.ts';
import type { ColourEvent } from '../panels/lb-palette-panel.ts';
import type { LbPanels } from '../panels/lb-panels.ts';
import type { FollowEvent, RenameEvent } from '../panels/lb-people.ts';
import type { LightEvent } from '../panels/light-event.ts';
import type { TexturesEvent } from '../panels/textures-event.ts';
import { controls } from '../styles/controls.ts';
import { closeFolded, placeFolded } from '../styles/folded.ts';
import {
  BoardSession,
  forgetLocalCopy,
  readPerson,
  rememberedRole,
  renamePerson,
  type Standing,
  secretIn,
} from '../sync/index.ts';
import type { OpenTalk } from '../talk/start-talk.ts';
import { loadTexts, t } from '../text/index.ts';
import { sayError } from '../words/say-error.ts';
import { AfterFrame } from './after-frame.ts';
import type { DemoCopy } from './demo-copy.ts';
import { emptyState, emptyStateStyles } from './empty-state.ts';
import { hasFirstSteps } from './first-visit.ts';
import { goTo } from './go-to.ts';
import { languageChoice } from './language-choice.ts';
import { boardPageStyles } from './lb-board-page.styles.ts';
import { openBoard } from './open-board.ts';

export class LbBoardPage extends LitElement {
  static override styles = [controls, boardPageStyles, emptyStateStyles];

  @property({ attribute: false }) boardId = '';
  @state() private session: BoardSession | null = null;
  @state() private lit: Lit | null = null;
  @state() private colour: string | null = null;
  @state() private textures: Textures | null = null;
  @state() private message = '';
  @state() private isDemo = false;
  /** Whether it is a board of its own: no demo, no branch of another. */
  @state() private isWhole = false;
  @state() private hasFirstSteps = false;
  /** Presence id of whom this person follows; null = nobody. */
  @state() private following: number | null = null;
  @state() private standing: Standing | null | undefined;
  /** What this browser holds of a board that is gone. */
  @state() private left: Board | null = null;
  /** Null until it is open, or where it cannot be fetched. */
  @state() private talk: OpenTalk | null = null;
  #opening = 0;
  /** What the panels are told: the picture comes first. */
  readonly #told = new AfterFrame<Board>(this);
  readonly #drop = new FileDrop(this, {
    isWanted: () => this.#keepsEdits,
    onFile: (file) => void this.#onDropped(file),
    onProblem: (sentence) => this.#say(sentence),
  });

  /** Null until a demo board was open, or where it cannot be fetched: then one may only look. */
  #demo: DemoCopy | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    addEventListener('hashchange', this.#onHash);
  }

  override disconnectedCallback(): void {
    removeEventListener('hashchange', this.#onHash);
    this.#close();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('boardId')) void this.#open();
  }

  protected override render(): TemplateResult {
    const { session } = this;
    if (session === null || !session.isOpen) {
      const reason = session?.closeReason ?? null;
      const isComing = this.message === '' && reason === null;
      return emptyState(
        isComing ? 'loading' : 'gone',
        this.message || (reason === null ? t('board.loading') : t(`closed.${reason}`)),
        html`${this.#renderLeft()}<a class="button" href="/" @click=${this.#onHome}>${t('board.back')}</a>`,
      );
    }
    const { board } = session.design.snapshot;
    document.title = `${board.title || t('board.untitled')} · ${t('app.name')}`;
    return html`
      ${this.#renderHeader(session)}
      ${this.#demo?.render() ?? (this.isDemo ? html`<p class="notice">${t('board.readOnly')}</p>` : '')}
      ${session.closeReason === null ? '' : html`<p class="notice" role="alert">${t(`closed.${session.closeReason}`)}</p>`}
      ${this.message === '' ? '' : html`<p class="notice" role="alert">${this.message} <button @click=${() => this.#say('')} aria-label=${t('app.close')}>×</button></p>`}
      ${this.#renderFollowing(session)}
      <lb-proposal-bar .boardId=${this.boardId} .standing=${this.standing}></lb-proposal-bar>
      <main @lb-refused=${this.#onRefused} @lb-light=${this.#onLight} @lb-colour=${this.#onColour} @lb-point=${this.#onPoint} @lb-textures=${this.#onTextures}>
        <lb-board @wheel=${this.#onOwnWay} @pointerdown=${this.#onOwnWay} @keydown=${this.#onOwnWay} .session=${session} .lit=${this.lit} .colour=${this.colour} .textures=${this.textures} .talk=${this.talk?.desk.here ?? null}>${this.talk?.pins() ?? ''}</lb-board>
        <aside>
          ${this.hasFirstSteps ? html`<lb-first-steps .design=${session.design} .isLit=${this.lit !== null} @lb-first-end=${this.#onFirstEnd}></lb-first-steps>` : ''}
          <lb-panels .session=${session} .talk=${this.talk?.desk ?? null} .unread=${this.talk?.desk.unread ?? 0} .boardId=${this.boardId} .standing=${this.standing} .board=${this.#told.take(session, board)} .design=${session.design} .chosen=${this.colour} ?canEdit=${session.canEdit}></lb-panels>
        </aside>
      </main>
      ${this.#drop.render()}
      <lb-in-out .board=${board} .boardId=${this.boardId} ?canEdit=${this.#keepsEdits} ?isOwner=${this.#isOwner} @lb-load-board=${this.#onLoadBoard} @lb-board-deleted=${this.#onDeleted}></lb-in-out>
      <lb-links-panel .boardId=${this.boardId} .standing=${this.standing} ?isDemo=${this.isDemo}></lb-links-panel>
      <lb-review .boardId=${this.boardId} .session=${session} .standing=${this.standing}></lb-review>
    `;
  }

  /** Where the board is gone: what this browser still holds of it. */
  #renderLeft(): TemplateResult | '' {
    const { left } = this;
    if (left === null) return '';
    const save = async (): Promise<void> => {
      const { saveBoardFile } = await import('../files/save-file.ts');
      saveBoardFile(left);
    };
    const forget = async (): Promise<void> => {
      await forgetLocalCopy(this.boardId);
      this.left = null;
    };
    return html`<p>${t('gone.left', { title: left.title || t('board.untitled') })}</p>
      <button class="primary" @click=${save}>${t('gone.save')}</button>
      <button @click=${forget}>${t('gone.forget')}</button>`;
  }

  #renderHeader(session: BoardSession): TemplateResult {
    const { design } = session;
    const saved = this.#keepsEdits && session.closeReason !== 'deleted' ? session.saved : 'viewing';
    return html`<header>
      <a class="button" href="/" @click=${this.#onHome} aria-label=${t('board.back')} title=${t('board.back')}>${pageIcon('back')}</a>
      <input
        class="title"
        aria-label=${t('board.title')}
        placeholder=${t('board.untitled')}
        maxlength="120"
        .value=${design.snapshot.board.title}
        ?disabled=${!session.canEdit}
        @change=${(event: Event) => this.#run(session, { kind: 'set-title', title: (event.target as HTMLInputElement).value })}
      />
      <span class="saved" data-state=${saved} role="status">${t(`saved.${saved}`)}</span>
      <lb-people .people=${session.people} .following=${this.following} @lb-follow=${this.#onFollow} @lb-rename=${this.#onRename}></lb-people>
      <span class="actions">
        <button ?disabled=${!design.canUndo} @click=${() => design.undo()} aria-label=${t('board.undo')} title=${t('board.undo')}>${pageIcon('undo')}</button>
        <button ?disabled=${!design.canRedo} @click=${() => design.redo()} aria-label=${t('board.redo')} title=${t('board.redo')}>${pageIcon('redo')}</button>
        <a class="button" href="/board/${this.boardId}/set" title=${t('board.set')} @click=${this.#onSet}>${pageIcon('set')}<span class="name">${t('board.set')}</span></a>
        <button class="more" popovertarget="more" aria-label=${t('board.more')} title=${t('board.more')}>${pageIcon('more')}</button>
        <span id="more" class="folded" popover @toggle=${placeFolded} @click=${closeFolded}>
          <button aria-haspopup="dialog" title=${t('links.share')} @click=${this.#onShare}>${pageIcon('share')}<span class="name">${t('links.share')}</span></button>
          <button aria-haspopup="dialog" title=${t('board.inOut')} @click=${this.#onInOut}>${pageIcon('paper')}<span class="name">${t('board.inOut')}</span></button>
          <a class="button" href="/help" title=${t('app.help')}>${pageIcon('help')}<span class="name">${t('app.help')}</span></a>
          ${languageChoice()}
        </span>
      </span>
    </header>`;
  }

  #renderFollowing(session: BoardSession): TemplateResult | '' {
    const followed = session.people.find((one) => one.clientId === this.following);
    if (followed === undefined) return '';
    return html`<p class="notice" role="status">
      ${t('people.following', { name: followed.presence.person.name })}
      <button @click=${this.#onOwnWay}>${t('people.stop')}</button>
    </p>`;
  }

  #run(session: BoardSession, command: Parameters<BoardSession['design']['run']>[0]): void {
    const result = session.design.run(command);
    if (!result.ok) this.#say(t('board.refused', { why: result.error.message }));
  }

  #say(message: string): void {
    this.message = message;
  }

  async #open(): Promise<void> {
    this.#close();
    const opening = ++this.#opening;
    this.message = '';
    this.left = null;
    const opened = await openBoard(this.boardId);
    if (opening !== this.#opening || !this.isConnected) return;
    this.message = opened.message;
    if (!opened.ok) {
      this.left = opened.left;
      return;
    }
    const { canEdit, isDemo, isWhole, standing } = opened;
    if (isDemo) await this.#prepareDemo();
    if (opening !== this.#opening || !this.isConnected) return;
    this.isDemo = isDemo;
    this.isWhole = isWhole;
    this.standing = standing;
    const session = new BoardSession({
      boardId: this.boardId,
      canEdit: canEdit || (isDemo && this.#demo !== null),
      isSketch: isDemo,
      person: readPerson(),
      server: `${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}`,
    });
    session.subscribe(() => {
      if (this.session === session) {
        this.#onClosed(session);
        this.#follow(session);
      }
      this.requestUpdate();
    });
    this.session = session;
    this.#demo?.opened(session);
    this.following = null;
    this.colour = null;
    if (canEdit && hasFirstSteps()) void this.#showFirstSteps();
    if (standing !== null && !isDemo) void this.#showProposals();
    void this.#openTalk(session, opening);
  }

  async #prepareDemo(): Promise<void> {
    if (this.#demo !== null) return;
    try {
      const [{ DemoCopy }] = await Promise.all([import('./demo-copy.ts'), loadTexts('panels')]);
      this.#demo ??= new DemoCopy(this);
    } catch (error) {
      // The page says then that one may only look.
      if (!(error instanceof TypeError)) throw error;
    }
  }

  async #showProposals(): Promise<void> {
    try {
      await (await import('../proposals/proposal-elements.ts')).startProposals(this);
    } catch (error) {
      // Without the bar the board is as good; the panel of proposals says what is missing.
      if (!(error instanceof TypeError)) throw error;
    }
  }

  async #openTalk(session: BoardSession, opening: number): Promise<void> {
    try {
      const { startTalk } = await import('../talk/start-talk.ts');
      const role = this.standing === undefined ? rememberedRole(this.boardId) : (this.standing?.role ?? null);
      const canTalk = role === null ? !this.isDemo : canWrite(role, 'talk');
      const talk = await startTalk(this, session, canTalk, () => this.requestUpdate());
      if (opening === this.#opening && this.session === session) this.talk = talk;
      else talk.dispose();
    } catch (error) {
      // The board is there without it; the tab says what is missing, and it comes with the connection.
      if (!(error instanceof TypeError)) throw error;
      addEventListener('online', () => opening === this.#opening && void this.#openTalk(session, opening), {
        once: true,
      });
    }
  }

  async #showFirstSteps(): Promise<void> {
    try {
      const [{ LbFirstSteps }] = await Promise.all([import('./lb-first-steps.ts'), loadTexts('help')]);
      if (customElements.get('lb-first-steps') === undefined)
        customElements.define('lb-first-steps', LbFirstSteps);
      this.hasFirstSteps = true;
    } catch (error) {
      // Without them the board is as good; they come at the next visit.
      if (!(error instanceof TypeError)) throw error;
    }
  }

  /** What the page does when the server has closed the socket for good. */
  #onClosed(session: BoardSession): void {
    switch (session.closeReason) {
      case 'outdated':
        // The server began a new generation of the document and has taken over what this browser held.
        void this.#openAnew(session);
        return;
      case 'roleChanged':
        void this.#open();
        return;
      case 'revoked':
      case 'unknownBoard':
        this.#close();
        this.#say(t(`closed.${session.closeReason}`));
    }
  }

  async #openAnew(session: BoardSession): Promise<void> {
    this.talk?.dispose();
    this.talk = null;
    this.session = null;
    await session.forgetLocal();
    session.dispose();
    await this.#open();
  }

  #close(): void {
    const { session, talk } = this;
    this.#demo?.closed();
    this.talk = null;
    this.session = null;
    if (session?.closeReason === 'deleted') void talk?.forget();
    else talk?.dispose();
    // What this browser held of a deleted board could be saved for as long as it was in sight; then it is forgotten too.
    if (session?.closeReason === 'deleted') void session.forgetLocal().then(() => session.dispose());
    else session?.dispose();
  }

  /** Keeps in sight what the followed one sees; forgets them when they have left. */
  #follow(session: BoardSession): void {
    if (this.following === null) return;
    const followed = session.people.find((one) => one.clientId === this.following);
    if (followed === undefined) this.following = null;
    else if (followed.presence.view !== null)
      this.renderRoot.querySelector<LbBoard>('lb-board')?.showRows(followed.presence.view);
  }

  readonly #onFollow = (event: FollowEvent): void => {
    this.following = event.client;
    if (this.session !== null) this.#follow(this.session);
  };

  readonly #onOwnWay = (): void => {
    this.following = null;
  };

  readonly #onRename = (event: RenameEvent): void => {
    this.session?.setPresence({ person: renamePerson(event.name) });
  };

  readonly #onHash = (): void => {
    if (secretIn(location.hash) !== null) void this.#open();
  };

  readonly #onHome = (event: MouseEvent): void => {
    if (event.metaKey || event.ctrlKey || event.shiftKey) return;
    event.preventDefault();
    if (this.#demo?.mayLeave() !== false) goTo('/');
  };

  readonly #onSet = (event: MouseEvent): void => {
    if (event.metaKey || event.ctrlKey || event.shiftKey) return;
    event.preventDefault();
    if (this.#demo?.mayLeave() !== false) goTo(`/board/${this.boardId}/set`);
  };

  readonly #onShare = async (): Promise<void> => {
    try {
      const [{ LbLinksPanel }] = await Promise.all([
        import('../panels/lb-links-panel.ts'),
        loadTexts('share'),
      ]);
      if (customElements.get('lb-links-panel') === undefined)
        customElements.define('lb-links-panel', LbLinksPanel);
      await this.renderRoot.querySelector<InstanceType<typeof LbLinksPanel>>('lb-links-panel')?.show();
    } catch (error) {
      // A browser says only that the module could not be fetched.
      if (!(error instanceof TypeError)) throw error;
      this.#say(t('app.notFetched'));
    }
  };

  readonly #onInOut = async (): Promise<void> => {
    try {
      const [{ defineInOut, LbInOut }] = await Promise.all([
        import('../files/in-out-elements.ts'),
        loadTexts('paper'),
      ]);
      defineInOut();
      const dialog = this.renderRoot.querySelector<InstanceType<typeof LbInOut>>('lb-in-out');
      await dialog?.updateComplete;
      dialog?.show();
    } catch (error) {
      // A browser says only that the module could not be fetched.
      if (!(error instanceof TypeError)) throw error;
      this.#say(t('app.notFetched'));
    }
  };

  /** Whether what is edited here becomes part of this board; on a demo board it becomes a copy. */
  get #keepsEdits(): boolean {
    return this.session?.canEdit === true && !this.session.isSketch;
  }

  /** Where the server keeps no links, whoever may write counts as an owner. */
  get #isOwner(): boolean {
    if (!this.isWhole || this.standing === undefined) return false;
    return this.standing === null ? this.session?.canEdit === true : canManage(this.standing.role);
  }

  readonly #onDeleted = async (): Promise<void> => {
    const { session, talk } = this;
    this.talk = null;
    this.session = null;
    await Promise.all([session?.forgetLocal(), talk?.forget()]);
    session?.dispose();
    goTo('/');
  };

  readonly #onLoadBoard = (event: LoadBoardEvent): void => {
    if (this.session !== null) this.#run(this.session, { kind: 'load-board', board: event.board });
  };

  async #onDropped(file: File): Promise<void> {
    if (/\.zip$/i.test(file.name)) {
      this.#say(t('drop.archive'));
      return;
    }
    const parsed = parseBoard(await file.text());
    if (this.session === null) return;
    if (!parsed.ok) {
      this.#say(t('start.badFile', { why: sayError(parsed.error) }));
      return;
    }
    this.#run(this.session, { kind: 'load-board', board: parsed.value });
    if (this.message === '') this.#say(t('board.loaded'));
  }

  readonly #onRefused = (event: RefusedEvent): void => {
    this.#say(event.why === null ? t('board.readOnly') : t('board.refused', { why: event.why }));
  };

  readonly #onLight = (event: LightEvent): void => {
    this.lit = event.lit;
  };

  readonly #onPoint = (event: PointEvent): void => {
    this.renderRoot.querySelector<LbPanels>('lb-panels')?.pointAt(event.at);
  };

  readonly #onTextures = (event: TexturesEvent): void => {
    this.textures = event.textures;
  };

  readonly #onFirstEnd = (): void => {
    this.hasFirstSteps = false;
  };

  readonly #onColour = (event: ColourEvent): void => {
    this.colour = this.colour === event.colour ? null : event.colour;
  };
}
