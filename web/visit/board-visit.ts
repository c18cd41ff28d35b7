/**
 * A page's visit to one board: comes in, holds the session, and does what the server's closing of the line asks for.
 *
 * `session` is null until the board is open and where it does not open; `message` then says why. A visit that was overtaken by
 * another, or whose page has gone, opens nothing.
 */
import type { LitElement, ReactiveController } from 'lit';
import { canWrite } from '../../engine/document/index.ts';
import type { Cell } from '../../engine/index.ts';
import { fetchMeanwhile, usePart, whenSeen } from '../parts/index.ts';
import {
  ApiError,
  BoardSession,
  dropCopies,
  fetchStanding,
  keepLook,
  type LeftCopy,
  onPersonChange,
  type Person,
  readPerson,
  renamePerson,
  type Standing,
  secretIn,
} from '../sync/index.ts';
import { t } from '../text/index.ts';
import type { AsideOffer } from './aside-offer.ts';
import {
  forgetOpened,
  isAsBefore,
  type OpenedBoard,
  openBoard,
  openedBefore,
  readLeft,
} from './open-board.ts';
import type { OwnSteps } from './own-steps.ts';

/** What a page does of its own while somebody visits. */
export interface VisitHooks {
  /** Before the session begins. @returns whether edits are to stay in the page, see `SessionOptions.isSketch` */
  readonly prepare?: (opened: OpenedBoard) => Promise<boolean>;
  readonly onOpened: (session: BoardSession, opened: OpenedBoard) => void;
  /** After every change of anything in the session. */
  readonly onChange?: (session: BoardSession) => void;
  /** When the board is left, before its session ends. @returns whether what this browser keeps of it is to be dropped; default: no */
  readonly onLeave?: (session: BoardSession) => boolean;
  /** Shows knots on the board, where there is one. */
  readonly onShow?: (knots: readonly Cell[]) => void;
}

function after(ms: number, call: () => void): () => void {
  const timer = setTimeout(call, ms);
  return () => clearTimeout(timer);
}

export class BoardVisit implements ReactiveController {
  readonly #host: LitElement;
  readonly #hooks: VisitHooks;
  #boardId = '';
  #session: BoardSession | null = null;
  #opened: OpenedBoard | null = null;
  #left: readonly LeftCopy[] = [];
  #aside: AsideOffer | null = null;
  #steps: OwnSteps | null = null;
  /** `away`: it may have changed what one may do here since the server was last asked. */
  #line: 'coming' | 'up' | 'away' = 'coming';
  #message = '';
  /** Whether whoever sits here has said what they are called; null before a board was open. */
  #isNamed: boolean | null = null;
  #stopHearing = (): void => {};
  #opening = 0;
  /** Whether it was left because the page went out of the document. */
  #isAway = false;

  constructor(host: LitElement, hooks: VisitHooks) {
    this.#host = host;
    this.#hooks = hooks;
    host.addController(this);
  }

  get session(): BoardSession | null {
    return this.#session;
  }

  /** Null where the server knows no links; undefined when it could not be asked. */
  get standing(): Standing | null | undefined {
    return this.#opened?.standing;
  }

  get isDemo(): boolean {
    return this.#opened?.isDemo ?? false;
  }

  /** Whether it is a board of its own: no demo, no branch of another. */
  get isWhole(): boolean {
    return this.#opened?.isWhole ?? false;
  }

  /** What this browser holds of a board that is gone. */
  get left(): readonly LeftCopy[] {
    return this.#left;
  }

  /** What other tabs put aside of the board; null = nothing. */
  get aside(): AsideOffer | null {
    return this.#aside;
  }

  /** The person's own steps; null until they are kept. */
  get steps(): OwnSteps | null {
    return this.#steps;
  }

  /** Whether somebody is here by a link who was never asked what they are called. */
  get asksName(): boolean {
    const { standing, isDemo } = this;
    const isGuest = standing !== null && standing !== undefined && standing.role !== 'owner';
    return this.#isNamed === false && isGuest && !isDemo;
  }

  /** What there is to be said; empty = nothing. */
  get message(): string {
    return this.#message;
  }

  hostConnected(): void {
    addEventListener('hashchange', this.#onHash);
    this.#stopHearing = onPersonChange((person) => this.#introduce(person));
    // A page that is moved goes out and comes back.
    if (this.#isAway && this.#boardId !== '') void this.open(this.#boardId);
    this.#isAway = false;
  }

  hostDisconnected(): void {
    this.#isAway = true;
    removeEventListener('hashchange', this.#onHash);
    this.#stopHearing();
    this.leave();
  }

  say(message: string): void {
    this.#message = message;
    this.#host.requestUpdate();
  }

  /**
   * Comes to a board at once where this browser has had it open before, from what it keeps, and asks the server meanwhile: where that says
   * otherwise by now, the board is come to anew.
   */
  async come(boardId: string): Promise<void> {
    const before = openedBefore(boardId);
    if (before === null) return this.open(boardId);
    this.#arrive(boardId);
    const opening = this.#opening;
    await this.#begin(before, () => opening !== this.#opening || !this.#host.isConnected);
    if (opening !== this.#opening) return;
    const isStill = await isAsBefore(boardId, before);
    if (!isStill && opening === this.#opening && this.#host.isConnected) await this.open(boardId);
  }

  /** Leaves the board that is open and comes to another, or to the same anew. */
  async open(boardId: string): Promise<void> {
    this.#arrive(boardId);
    const opening = this.#opening;
    const isOvertaken = (): boolean => opening !== this.#opening || !this.#host.isConnected;
    const opened = await openBoard(boardId);
    if (isOvertaken()) return;
    this.say(opened.message);
    if (!opened.ok) {
      this.#left = opened.left;
      return;
    }
    await this.#begin(opened, isOvertaken);
  }

  #arrive(boardId: string): void {
    this.leave();
    this.#boardId = boardId;
    this.#opening += 1;
    this.#left = [];
    this.say('');
  }

  async #begin(opened: OpenedBoard, isOvertaken: () => boolean): Promise<void> {
    const isSketch = (await this.#hooks.prepare?.(opened)) ?? false;
    if (isOvertaken()) return;
    this.#opened = opened;
    const person = readPerson();
    this.#isNamed = person.isNamed;
    const session = new BoardSession({
      boardId: this.#boardId,
      canEdit: opened.canEdit || isSketch,
      isSketch,
      person,
      server: `${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}`,
    });
    session.subscribe(() => {
      if (this.#session === session) this.#onChange(session);
      this.#host.requestUpdate();
    });
    this.#session = session;
    this.#line = opened.standing === undefined ? 'away' : 'coming';
    this.#hooks.onOpened(session, opened);
    this.#host.requestUpdate();
    // Who may write is told what others do to what they wrote; nobody waits for it.
    if (session.keepsEdits) void whenSeen().then(() => fetchMeanwhile('notices'));
    if (!isSketch) void this.#lookAside(session);
    if (session.canEdit) void whenSeen().then(() => this.#keepSteps(session));
    // Without the others the board is as good.
    void whenSeen().then(() =>
      fetchMeanwhile('company', ({ joinCompany }) => {
        if (this.#session === session) joinCompany(session, { keepLook, now: Date.now, after });
      }),
    );
  }

  /** Ends the session; see {@link VisitHooks.onLeave} for what stays of the board. */
  leave(): void {
    const session = this.#session;
    if (session === null) return;
    const isToForget = this.#hooks.onLeave?.(session) === true;
    this.#let();
    this.#host.requestUpdate();
    if (isToForget) void this.#forget(session);
    else session.dispose();
  }

  /** Ends the session and drops what this browser keeps of the board. */
  async leaveAndForget(): Promise<void> {
    const session = this.#session;
    if (session === null) return;
    this.#hooks.onLeave?.(session);
    this.#let();
    this.#host.requestUpdate();
    await this.#forget(session);
  }

  /** Drops a copy that this browser holds of a board that is gone. */
  async forgetLeft(left: LeftCopy): Promise<void> {
    await dropCopies(left);
    this.#left = this.#left.filter((one) => one !== left);
    this.#host.requestUpdate();
  }

  /** Gives the person another name, here and from now on. */
  rename(name: string): void {
    if (this.#session !== null) this.#introduce(renamePerson(name));
  }

  #introduce(person: Person): void {
    this.#isNamed = person.isNamed;
    this.#session?.introduce(person);
    this.#host.requestUpdate();
  }

  async #forget(session: BoardSession): Promise<void> {
    forgetOpened(session.boardId);
    await session.forgetLocal();
    session.dispose();
  }

  #let(): void {
    this.#session = null;
    this.#aside?.end();
    this.#aside = null;
    this.#steps?.end();
    this.#steps = null;
  }

  /** Sees to what tabs of this browser put aside of the board. */
  async #lookAside(session: BoardSession): Promise<void> {
    const names = await session.asideNames();
    if (this.#session !== session) return;
    if (names.length === 0) return;
    // Where that cannot be fetched, what was put aside waits for the next visit.
    await usePart(
      'aside',
      async ({ AsideOffer }) => {
        if (this.#session !== session) return;
        this.#aside = new AsideOffer(this.#host, session, names);
        await this.#aside.begin();
      },
      true,
    );
  }

  /** Without it undo ends with the page. */
  async #keepSteps(session: BoardSession): Promise<void> {
    if (this.#session !== session) return;
    await usePart(
      'own-steps',
      async ({ OwnSteps }) => {
        if (this.#session !== session) return;
        this.#steps = new OwnSteps(this.#host, session, this.#hooks.onShow);
        await this.#steps.begin();
      },
      true,
    );
  }

  /**
   * A line that broke comes back whatever one may do by then: edits that the server does not take any more would go on looking like
   * part of the board.
   */
  async #askAnew(session: BoardSession): Promise<void> {
    try {
      const standing = await fetchStanding(session.boardId);
      const isOther = standing !== null && canWrite(standing.role, 'design') !== session.canEdit;
      if (isOther && session === this.#session) await this.open(session.boardId);
    } catch (error) {
      // Away again, or not let in: the line says so itself.
      if (!(error instanceof ApiError)) throw error;
    }
  }

  async #offerLeft(): Promise<void> {
    const opening = this.#opening;
    const left = await readLeft(this.#boardId);
    if (opening !== this.#opening) return;
    this.#left = left;
    this.#host.requestUpdate();
  }

  #onChange(session: BoardSession): void {
    const isBack = session.isConnected && this.#line === 'away';
    if (session.isConnected) this.#line = 'up';
    else if (this.#line === 'up') this.#line = 'away';
    if (isBack && !session.isSketch) void this.#askAnew(session);
    switch (session.closeReason) {
      case 'outdated':
        // The server began a new generation of the document and has taken over what this browser held.
        void this.#openAnew();
        return;
      case 'roleChanged':
        void this.open(this.#boardId);
        return;
      case 'revoked':
      case 'unknownBoard':
        this.leave();
        this.say(t(`closed.${session.closeReason}`));
        void this.#offerLeft();
        return;
      default:
        this.#hooks.onChange?.(session);
    }
  }

  async #openAnew(): Promise<void> {
    const opening = this.#opening;
    await this.leaveAndForget();
    if (opening === this.#opening) await this.open(this.#boardId);
  }

  /** A link opened in the same tab changes only what stands behind the `#`. */
  readonly #onHash = (): void => {
    if (secretIn(location.hash) !== null) void this.open(this.#boardId);
  };
}
