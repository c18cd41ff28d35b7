/**
 * A lesson: its door, the waiting room, and the screen for making beside a call, for the teacher and for learners; on a board without a lesson
 * in the address, the lessons of that board.
 *
 * Which lesson it is stands in the address behind `?of=`; a link has its secret in the fragment, which goes once it has been used.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Board, parseBoard } from '../../engine/index.ts';
import { languageChoice } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { ApiError, LessonSession, secretIn } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { boardHeaderStyles } from '../visit/index.ts';
import { sayServerError, sayTitle } from '../words/index.ts';
import { enterLesson, fetchLesson, fetchLessonBoard, type LessonSight } from './lesson-api.ts';
import { LessonShelf } from './lesson-shelf.ts';
import type { LbLessonWork } from './lb-lesson-work.ts';
import { lessonPageStyles } from './lb-lesson-page.styles.ts';

export { LbLessonDoor } from './lb-lesson-door.ts';
export { LbLessonList } from './lb-lesson-list.ts';
export { LbLessonPlan } from './lb-lesson-plan.ts';
export { LbLessonReady } from './lb-lesson-ready.ts';
export { LbLessonRoster } from './lb-lesson-roster.ts';
export { LbLessonWalk } from './lb-lesson-walk.ts';
export { LbLessonWork } from './lb-lesson-work.ts';

/** How often who waits asks whether they are in. */
const ASK_MS = 2_000;
const MOST_NAME = 60;

type Phase =
  | { readonly kind: 'coming' }
  | { readonly kind: 'door'; readonly secret: string }
  | { readonly kind: 'waiting' | 'out' | 'over'; readonly title: string }
  | { readonly kind: 'in'; readonly sight: LessonSight }
  | { readonly kind: 'failed'; readonly why: string };

@spoken
export class LbLessonPage extends LitElement {
  static override styles = [controls, boardHeaderStyles, lessonPageStyles];

  @property({ attribute: false }) boardId = '';
  @state() private phase: Phase = { kind: 'coming' };
  @state() private board: Board | null = null;
  @state() private problem = '';
  /** The state of the board that is shown. */
  #boardState = 0;
  #session: LessonSession | null = null;
  #asking: ReturnType<typeof setTimeout> | undefined;
  #wasIn = false;
  #isTeacher = false;

  get #lesson(): string | null {
    return new URLSearchParams(location.search).get('of');
  }

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('visibilitychange', this.#onSight);
  }

  override disconnectedCallback(): void {
    document.removeEventListener('visibilitychange', this.#onSight);
    this.#leave();
    super.disconnectedCallback();
  }

  /** A call was in front: whatever became of the line meanwhile, it is there at once. Rule R48. */
  readonly #onSight = (): void => {
    if (document.visibilityState === 'visible') this.#session?.wake();
  };

  #leave(): void {
    clearTimeout(this.#asking);
    const session = this.#session;
    // Its end is a change too, of which nobody here is to hear.
    this.#session = null;
    session?.end();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('boardId') && this.#lesson !== null) void this.#come();
  }

  /** Asks what the lesson is to whoever sits here; of who comes by the link for the first time it is known without asking. */
  async #come(hasKnocked = false): Promise<void> {
    const lesson = this.#lesson;
    if (lesson === null) return;
    const secret = secretIn(location.hash);
    if (secret !== null && !hasKnocked && !this.#wasIn && !new LessonShelf(lesson).hasCome) {
      this.phase = { kind: 'door', secret };
      return;
    }
    try {
      const sight = await fetchLesson(lesson);
      if (!this.isConnected) return;
      if (secret !== null) history.replaceState(history.state, '', location.pathname + location.search);
      await this.#enter(lesson, sight);
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      if (!this.isConnected) return;
      if (error.kind === 'unknown-board' && secret !== null && !this.#wasIn)
        this.phase = { kind: 'door', secret };
      else if (error.kind === 'unknown-board') this.#end(lesson);
      else if (this.#wasIn || this.phase.kind === 'waiting') this.#askSoon();
      else this.phase = { kind: 'failed', why: sayServerError(error) };
    }
  }

  /** What this browser keeps of a lesson goes when it has ended. */
  #end(lesson: string): void {
    this.#leave();
    new LessonShelf(lesson).drop();
    this.phase = { kind: 'over', title: this.board === null ? '' : sayTitle(this.board) };
  }

  async #enter(lesson: string, sight: LessonSight): Promise<void> {
    this.#isTeacher = sight.as === 'teacher';
    if (sight.as === 'teacher' && sight.endedAt !== null) {
      this.#end(lesson);
      return;
    }
    if (sight.as === 'out') {
      this.#leave();
      this.phase = { kind: 'out', title: sight.title };
      return;
    }
    if (this.board === null || this.#boardState !== sight.state) await this.#readBoard(lesson, sight.state);
    if (!this.isConnected) return;
    if (sight.as === 'waiting') {
      this.phase = { kind: 'waiting', title: sight.title };
      this.#askSoon();
      return;
    }
    this.#wasIn = true;
    this.phase = { kind: 'in', sight };
    if (this.#session !== null) return;
    this.#session = new LessonSession({
      lesson,
      isTeacher: sight.as === 'teacher',
      server: `${location.protocol === 'https:' ? 'wss' : 'ws'}://${location.host}`,
      onChange: () => {
        if (this.#session?.isOver === true) {
          this.#leave();
          void this.#come();
        }
        this.requestUpdate();
      },
      onLook: (place) => this.renderRoot.querySelector<LbLessonWork>('lb-lesson-work')?.look(place),
      onBoard: (shown) => {
        if (shown !== this.#boardState) void this.#come();
      },
    });
  }

  async #readBoard(lesson: string, shown: number): Promise<void> {
    const parsed = parseBoard(await fetchLessonBoard(lesson));
    if (!parsed.ok) throw new ApiError('bad-version', 'the board of the lesson cannot be read');
    this.board = parsed.value;
    this.#boardState = shown;
  }

  #askSoon(): void {
    clearTimeout(this.#asking);
    this.#asking = setTimeout(() => void this.#come(), ASK_MS);
  }

  protected override render(): TemplateResult {
    const lesson = this.#lesson;
    document.title =
      this.board === null ? t('lesson.heading') : `${t('lesson.heading')} · ${sayTitle(this.board)}`;
    const walk = new URLSearchParams(location.search).get('walk');
    if (walk !== null)
      return html`<lb-lesson-walk .boardId=${this.boardId} .lessonId=${walk}></lb-lesson-walk>`;
    if (lesson === null) return html`<lb-lesson-list .boardId=${this.boardId}></lb-lesson-list>`;
    const { phase } = this;
    switch (phase.kind) {
      case 'coming':
        return this.#renderPlain(html`<p role="status">${t('board.loading')}</p>`);
      case 'door':
        return this.#renderDoor(lesson, phase.secret);
      case 'waiting':
        return this.#renderPlain(
          html`<p role="status" class="said">${t('lesson.wait')}</p>
            ${this.board === null ? '' : html`<lb-lesson-ready .board=${this.board}></lb-lesson-ready>`}`,
          phase.title,
        );
      case 'out':
        return this.#renderPlain(html`<p role="status" class="said">${t('lesson.out')}</p>`, phase.title);
      case 'over':
        return this.#renderPlain(
          html`<p role="status" class="said">${t('lesson.over')}</p><a class="button" href=${this.#isTeacher ? `/board/${this.boardId}/lesson` : '/'}>${t(this.#isTeacher ? 'lesson.heading' : 'board.back')}</a>`,
          phase.title,
        );
      case 'failed':
        return this.#renderPlain(html`<p role="alert" class="warn">${phase.why}</p>`);
      case 'in':
        return this.#renderLesson(phase.sight, lesson);
    }
  }

  #renderPlain(inside: TemplateResult, title = ''): TemplateResult {
    return html`<header><h1>${t('lesson.heading')}${title === '' ? '' : html` · ${title}`}</h1>${languageChoice()}</header><main class="plain">${inside}</main>`;
  }

  #renderDoor(lesson: string, secret: string): TemplateResult {
    const knock = async (event: SubmitEvent): Promise<void> => {
      event.preventDefault();
      const name = new FormData(event.target as HTMLFormElement).get('name');
      try {
        await enterLesson(lesson, secret, String(name ?? ''));
        const shelf = new LessonShelf(lesson);
        shelf.keepWays(shelf.ways);
        await this.#come(true);
      } catch (error) {
        if (!(error instanceof ApiError)) throw error;
        this.problem = sayServerError(error);
      }
    };
    return this.#renderPlain(html`<form @submit=${knock}>
        <label for="name">${t('lesson.name')}</label>
        <input id="name" name="name" maxlength=${MOST_NAME} required autocomplete="off" autofocus />
        <p class="small quiet">${t('lesson.nameOnly')}</p>
        <button class="primary">${t('lesson.knock')}</button>
      </form>
      ${this.problem === '' ? '' : html`<p class="warn" role="alert">${this.problem}</p>`}`);
  }

  #renderLesson(sight: LessonSight, lesson: string): TemplateResult {
    const session = this.#session;
    if (session === null || this.board === null)
      return this.#renderPlain(html`<p role="status">${t('board.loading')}</p>`);
    const isRoster = new URLSearchParams(location.search).has('roster');
    if (sight.as === 'teacher' && isRoster)
      return html`<lb-lesson-roster .session=${session} .people=${session.people} .board=${this.board} .about=${sight}></lb-lesson-roster>`;
    return html`<lb-lesson-work .session=${session} .lesson=${session.lesson} .people=${session.people} .own=${session.own} .board=${this.board} .lessonId=${lesson} .boardId=${this.boardId} .about=${sight.as === 'teacher' ? sight : null} ?isAway=${!session.isConnected} ?asked=${session.isAsked}></lb-lesson-work>`;
  }
}
