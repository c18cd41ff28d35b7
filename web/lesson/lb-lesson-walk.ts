/**
 * A lesson that has ended, walked through again at one's own pace: the stops of its plan with their notes and what was kept at them, on the screen for
 * making. The keychain is one's own and kept in this browser.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Board, parseBoard } from '../../engine/index.ts';
import { languageChoice } from '../fields/index.ts';
import { pageIcon } from '../icons/index.ts';
import { controls } from '../styles/index.ts';
import { ApiError } from '../sync/index.ts';
import {
  Hands,
  type Keychain,
  type KeychainEvent,
  type TableStage,
  tablePageStyles,
} from '../table/index.ts';
import { spoken, t } from '../text/index.ts';
import { boardHeaderStyles } from '../visit/index.ts';
import { sayServerError, sayTitle } from '../words/index.ts';
import type { Course } from './course.ts';
import { CourseReader } from './course-reader.ts';
import { lessonWorkStyles } from './lb-lesson-work.styles.ts';
import { fetchWalk, type LessonWalk } from './lesson-api.ts';
import { LessonShelf } from './lesson-shelf.ts';
import { sayPlace } from './say-place.ts';
import { renderStage } from './shown-stage.ts';
import { plannedStops, stopAt } from './stops.ts';

@spoken
export class LbLessonWalk extends LitElement {
  static override styles = [controls, boardHeaderStyles, tablePageStyles, lessonWorkStyles];

  @property({ attribute: false }) boardId = '';
  @property({ attribute: false }) lessonId = '';
  @state() private walk: LessonWalk | null = null;
  @state() private board: Board | null = null;
  @state() private keychain: Keychain | null = null;
  @state() private problem = '';
  @state() private isFull = false;
  readonly #courses = new CourseReader(this);
  readonly #hands = new Hands(this, {
    stage: () => this.renderRoot.querySelector<TableStage>('main.stage > *'),
    now: () => performance.now(),
  });

  override connectedCallback(): void {
    super.connectedCallback();
    this.addEventListener('lb-keychain', this.#onKeychain);
  }

  override disconnectedCallback(): void {
    this.removeEventListener('lb-keychain', this.#onKeychain);
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('lessonId')) void this.#come();
  }

  async #come(): Promise<void> {
    try {
      const walk = await fetchWalk(this.boardId, this.lessonId);
      const parsed = parseBoard(walk.file);
      if (!parsed.ok) throw new ApiError('bad-version', 'the board of the lesson cannot be read');
      this.keychain = new LessonShelf(this.lessonId).keychain('same');
      this.board = parsed.value;
      this.walk = walk;
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = sayServerError(error);
    }
  }

  readonly #onKeychain = ({ patch }: KeychainEvent): void => {
    if (this.keychain !== null) this.#keep({ ...this.keychain, ...patch });
  };

  #keep(keychain: Keychain): void {
    this.keychain = keychain;
    this.isFull = !new LessonShelf(this.lessonId).keep(keychain);
  }

  protected override render(): TemplateResult {
    const { walk, board, keychain } = this;
    document.title = board === null ? t('lesson.heading') : `${t('lesson.heading')} · ${sayTitle(board)}`;
    if (this.problem !== '')
      return html`<main class="waiting"><p class="warn" role="alert">${this.problem}</p></main>`;
    if (walk === null || board === null || keychain === null)
      return html`<main class="waiting"><p role="status">${t('board.loading')}</p></main>`;
    const course = this.#courses.read(board, false);
    if (course === null) return html`<main class="waiting">${this.#courses.pending(board)}</main>`;
    return html`<div class="at-table">
      <header><a class="button" href="/board/${this.boardId}/lesson" aria-label=${t('lesson.heading')} title=${t('lesson.heading')}>${pageIcon('back')}</a>
        <h1>${sayTitle(board)}</h1>${this.isFull ? html`<span class="warn small" role="alert">${t('table.full')}</span>` : ''}${languageChoice()}</header>
      ${this.#renderStops(walk, keychain, course)}
      <main class="stage" @pointerdown=${this.#hands.onDown} @pointerup=${this.#hands.onUp} @pointercancel=${this.#hands.onCancel}>${this.#renderStage(walk, board, keychain, course)}</main>
      <div class="pads" @pointerdown=${this.#hands.onDown} @pointerup=${this.#hands.onUp} @pointercancel=${this.#hands.onCancel} @contextmenu=${(event: Event) => event.preventDefault()}>
        <button class="back" @click=${this.#hands.onClick}>${t('table.backStep')}</button>
        <button class="on primary" @click=${this.#hands.onClick}>${t('table.on')}</button>
      </div>
    </div>`;
  }

  #renderStage(walk: LessonWalk, board: Board, keychain: Keychain, course: Course): TemplateResult {
    const stop = stopAt(walk, course.placeOf(keychain), course);
    const strokes = walk.drawings.filter((one) => one.stop === stop?.id).map(({ stroke }) => stroke);
    return renderStage({
      keychain,
      board,
      course,
      list: this.#courses.list,
      drawn: { strokes, pointer: null },
    });
  }

  /** Rule R72. */
  #renderStops(walk: LessonWalk, keychain: Keychain, course: Course): TemplateResult {
    const stops = plannedStops(walk, course);
    const mine = course.placeOf(keychain);
    const stop = stopAt(walk, mine, course);
    const at = stop === undefined ? -1 : stops.indexOf(stop);
    const go = (to: number) => (): void => {
      const next = stops[to];
      if (next !== undefined) this.#keep(course.at(next.place, keychain));
    };
    return html`<div class="strip">
      <p role="status">${sayPlace(mine, course)}${stops.length === 0 ? '' : html` <span class="small quiet">${t('lesson.stopOf', { stop: at + 1, stops: stops.length })}</span>`}</p>
      <button ?disabled=${at <= 0} @click=${go(at - 1)}>${t('lesson.stopBefore')}</button>
      <button ?disabled=${at >= stops.length - 1} @click=${go(at + 1)}>${t('lesson.stopNext')}</button>
      ${stop === undefined || stop.note === '' ? '' : html`<p class="note">${stop.note}</p>`}
    </div>`;
  }
}
