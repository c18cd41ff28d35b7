/**
 * The screen for making in a lesson, beside a call. A learner follows the teacher's step in her own colours and with her own hand, goes at her own
 * pace, comes back with one tap, and calls for help with another. Who leads works on the same screen; where she is, everybody follows.
 *
 * What is shown is one of three: one's own keychain, the same put to where the teacher is, or to where she calls everybody to look. Only what
 * is done oneself changes one's own.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import {
  type LearnerEntry,
  type Lesson,
  dropDrawings,
  keepDrawing,
  type LessonPlace,
  MAX_STROKE_NUMBERS,
  placeText,
  readPlace,
  takeLead,
  writeStop,
  writeTeachersPlace,
} from '../../engine/document/index.ts';
import { type Board, compareTied, dressBoard } from '../../engine/index.ts';
import { pageIcon } from '../icons/index.ts';
import { ScreenAwake } from '../panels/index.ts';
import { controls } from '../styles/index.ts';
import { keepInLesson, type LessonSession, newId, type OwnNews, readPerson } from '../sync/index.ts';
import {
  type Drawn,
  firstHalfIn,
  Hands,
  type Keychain,
  type KeychainEvent,
  mirrorBoard,
  sayChanges,
  type TableStage,
  tablePageStyles,
} from '../table/index.ts';
import { spoken, t } from '../text/index.ts';
import { boardHeaderStyles } from '../visit/index.ts';
import { sayTitle } from '../words/index.ts';
import type { Course } from './course.ts';
import { CourseReader } from './course-reader.ts';
import { lessonWorkStyles } from './lb-lesson-work.styles.ts';
import type { LessonAbout } from './lesson-api.ts';
import { lessonSettings } from './lesson-settings.ts';
import { LessonShelf, type LessonView, type OwnWays } from './lesson-shelf.ts';
import { learnerStrip, teacherStrip } from './lesson-strip.ts';
import { joinStrokes, mirrorDrawn } from './pen.ts';
import { renderStage } from './shown-stage.ts';
import { stopAt } from './stops.ts';
import { TeacherInk } from './teacher-ink.ts';

const IN_LESSON_MS = 30_000;

/** A page that is loaded anew in its tab is the same: who led leads on. */
function pageOfTab(): string {
  const key = 'larkboard.lesson-page';
  const page = sessionStorage.getItem(key) ?? newId();
  sessionStorage.setItem(key, page);
  return page;
}

@spoken
export class LbLessonWork extends LitElement {
  static override styles = [controls, boardHeaderStyles, tablePageStyles, lessonWorkStyles];

  @property({ attribute: false }) session!: LessonSession;
  @property({ attribute: false }) lesson!: Lesson;
  @property({ attribute: false }) people: readonly LearnerEntry[] = [];
  @property({ attribute: false }) own: OwnNews | null = null;
  /** As the lesson is about. */
  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) lessonId = '';
  @property({ attribute: false }) boardId = '';
  /** What teachers know of the lesson; null for learners. */
  @property({ attribute: false }) about: LessonAbout | null = null;
  @property({ type: Boolean }) isAway = false;
  @property({ type: Boolean }) asked = false;
  @state() private keychain!: Keychain;
  @state() private ways!: OwnWays;
  /** Where the teacher called everybody to look; null = nowhere. */
  @state() private called: LessonPlace | null = null;
  @state() private open: 'nothing' | 'plan' | 'door' = 'nothing';
  @state() private isSetting = false;
  @state() private isFull = false;
  @state() private isDrawing = false;
  #shelf!: LessonShelf;
  /** As this hand sees it, in these colours. */
  #shown!: Board;
  #course: Course | null = null;
  /** What of what is tied the board of now has otherwise, in words. */
  @state() private changes = '';
  /** The keychain as it was shown last, and of what. */
  #put: { readonly of: readonly unknown[]; readonly keychain: Keychain } | null = null;
  readonly #page = pageOfTab();
  readonly #courses = new CourseReader(this);
  readonly #awake = new ScreenAwake(this);
  readonly #hands = new Hands(this, { stage: () => this.#stage, now: () => performance.now() });
  readonly #ink = new TeacherInk(this, {
    stage: () => this.#stage,
    mirrored: () => (this.ways.view === 'mirror' ? this.board.pattern.colours.length : null),
    point: (at) => this.session.point(at),
    draw: (stroke) => this.session.draw(stroke),
    now: () => performance.now(),
  });
  /** What is drawn over the work, and of what. */
  #drawn: { readonly of: readonly unknown[]; readonly drawn: Drawn } | null = null;
  #inLesson: ReturnType<typeof setInterval> | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    this.addEventListener('lb-keychain', this.#onKeychain);
    keepInLesson(true);
    this.#inLesson = setInterval(() => keepInLesson(true), IN_LESSON_MS);
    if (ScreenAwake.isPossible) this.#awake.want(true);
  }

  override disconnectedCallback(): void {
    this.removeEventListener('lb-keychain', this.#onKeychain);
    clearInterval(this.#inLesson);
    keepInLesson(false);
    super.disconnectedCallback();
  }

  get #stage(): TableStage | null {
    return this.renderRoot.querySelector<TableStage>('main.stage > *');
  }

  get #isTeacher(): boolean {
    return this.session.isTeacher;
  }

  get #leads(): boolean {
    return this.#isTeacher && this.lesson.lead?.page === this.#page;
  }

  /** Whether what is shown is where the teacher is. */
  get #isFollowing(): boolean {
    return this.#isTeacher ? !this.#leads : this.ways.isFollowing === true;
  }

  /** The teacher calls everybody to a place. */
  look(text: string): void {
    this.called = this.#leads ? null : readPlace(text);
  }

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('lessonId')) {
      this.#shelf = new LessonShelf(this.lessonId);
      this.ways = this.#shelf.ways;
      this.keychain = this.#shelf.keychain(this.ways.view);
    }
    if (this.ways.isFollowing === null && !this.isAway) {
      // Whoever comes late begins at cutting, with the teacher's place ahead of her.
      const { place } = this.lesson;
      this.#change({ isFollowing: place === null || place.stage === 'cut' });
    }
    if (changed.has('board') || changed.has('lessonId') || changed.has('ways')) this.#dress(changed);
    this.#course = this.#courses.read(this.board, this.ways.view === 'mirror');
    if (this.#course !== null) this.#tell(this.#course);
  }

  /** The board in one's own colours, for one's own hand; and what of what is tied differs, where it is another board now. */
  #dress(changed: PropertyValues): void {
    const before = changed.get('board') as Board | undefined;
    const { view, colourway, colours } = this.ways;
    const chosen = this.board.colourways.find(({ id }) => id === colourway) ?? null;
    const dressed = dressBoard(this.board, chosen);
    const palette = dressed.palette.map((one) => ({ ...one, hex: colours[one.id] ?? one.hex }));
    const seen = (board: Board): Board => (view === 'mirror' ? mirrorBoard(board) : board);
    this.#shown = seen({ ...dressed, palette, colourways: [] });
    if (before === undefined) return;
    const { canFollow, changes, tied } = compareTied(seen(before), seen(this.board), this.keychain.tied);
    // Of other strings nothing that hangs is of use.
    const anew = { stage: 'cut', cut: [], mounted: 0, finished: [], tied: new Set<string>() } as const;
    this.#keep({ ...this.keychain, ...(canFollow ? { tied } : anew) });
    this.changes = canFollow
      ? `${t('lesson.changed', { count: changes.length })} ${sayChanges(changes)}`.trim()
      : t('lesson.changedStrings');
  }

  /** Where one is goes out: the teacher's step to all, a learner's to the teachers. Rules R44, R45. */
  #tell(course: Course): void {
    const place = course.placeOf(this.keychain);
    if (!this.#isTeacher) {
      this.session.at(place);
      const { pattern, palette } = this.#shown;
      const used = new Set(pattern.colours);
      this.session.wears(palette.filter(({ id }) => used.has(id)).map(({ hex }) => hex));
    } else if (this.lesson.lead === null && this.session.isConnected) this.#takeLead(course);
    else if (this.#leads && !this.isAway) writeTeachersPlace(this.session.doc, place);
  }

  /** From where the lesson stands: nobody who follows is moved. Rule R45. */
  #takeLead(course: Course): void {
    const { place } = this.lesson;
    if (place !== null) this.#keep(course.at(place, this.keychain));
    takeLead(this.session.doc, { page: this.#page, name: readPerson().name });
  }

  #keep(keychain: Keychain): void {
    this.keychain = keychain;
    this.isFull = !this.#shelf.keep(keychain);
  }

  readonly #onKeychain = ({ patch }: KeychainEvent): void => {
    const course = this.#course;
    if (course === null || (this.#isTeacher && !this.#leads)) return;
    // What was answered is over once she goes on.
    if (!this.#isTeacher && (this.session.says === 'done' || this.session.says === 'ready'))
      this.session.say(null);
    const place = this.#place;
    this.#keep({ ...(place === null ? this.keychain : course.at(place, this.keychain)), ...patch });
    this.called = null;
  };

  /** The place that is shown instead of one's own; null = one's own. */
  get #place(): LessonPlace | null {
    return this.called ?? (this.#isFollowing ? this.lesson.place : null);
  }

  #change(ways: Partial<OwnWays>): void {
    this.ways = { ...this.ways, ...ways };
    this.isFull = !this.#shelf.keepWays(this.ways);
  }

  protected override render(): TemplateResult {
    const course = this.#course;
    if (course === null) return html`<main class="waiting">${this.#courses.pending(this.board)}</main>`;
    const keychain = this.#seen(course);
    return html`<div class="at-table">
      <header><h1>${sayTitle(this.board)}</h1>
        ${this.isAway ? html`<span class="warn small" role="status">${t('lesson.away')}</span>` : ''}
        ${this.isFull ? html`<span class="warn small" role="alert">${t('table.full')}</span>` : ''}
        <button popovertarget="settings" aria-label=${t('table.more')} title=${t('table.more')}>${pageIcon('more')}</button>
        ${this.#renderSettings(course)}
      </header>
      ${this.#renderStrip(course)}
      ${this.#renderMain(keychain, course)}
      ${this.#renderPads(keychain, course)}
      ${this.open === 'plan' ? html`<lb-lesson-plan .lesson=${this.lesson} .session=${this.session} .course=${course} @lb-close=${this.#onClose}></lb-lesson-plan>` : ''}
      ${this.open === 'door' && this.about !== null ? html`<lb-lesson-door .about=${this.about} .people=${this.people} .isLocked=${this.session.isLocked} isDialog @lb-close=${this.#onClose}></lb-lesson-door>` : ''}
    </div>`;
  }

  readonly #onClose = (): void => {
    this.open = 'nothing';
  };

  /** The keychain as it is shown; the same one as long as it says the same. */
  #seen(course: Course): Keychain {
    const place = this.#place;
    if (place === null) return this.keychain;
    const of = [placeText(place), this.keychain, course];
    if (this.#put === null || of.some((one, at) => one !== this.#put?.of[at]))
      this.#put = { of, keychain: course.at(place, this.keychain) };
    return this.#put.keychain;
  }

  #renderMain(keychain: Keychain, course: Course): TemplateResult {
    const inside = renderStage({
      keychain,
      board: this.#shown,
      course,
      list: this.#courses.list,
      drawn: this.#seenInk(course),
    });
    const hands = this.#hands;
    const ink = this.#ink;
    return this.isDrawing && this.#leads
      ? html`<main class="stage draws" @pointerdown=${ink.onDown} @pointermove=${ink.onMove} @pointerup=${ink.onUp} @pointercancel=${ink.onUp} @pointerleave=${ink.onLeave}>${inside}</main>`
      : html`<main class="stage" @pointerdown=${hands.onDown} @pointerup=${hands.onUp} @pointercancel=${hands.onCancel}>${inside}</main>`;
  }

  /** What is drawn, with what is kept at the stop that is seen; the same one as long as it says the same. Rules R54, R55. */
  #seenInk(course: Course): Drawn {
    const { shown } = this.session.ink;
    const stop = stopAt(this.lesson, this.#place ?? course.placeOf(this.keychain), course);
    const isMirrored = this.ways.view === 'mirror';
    const of = [shown, this.lesson.drawings, stop?.id, isMirrored, this.board];
    if (this.#drawn === null || of.some((one, at) => one !== this.#drawn?.of[at])) {
      const kept = this.lesson.drawings.filter((one) => one.stop === stop?.id).map(({ stroke }) => stroke);
      const drawn = { strokes: [...kept, ...shown.strokes], pointer: shown.pointer };
      const strings = this.board.pattern.colours.length;
      this.#drawn = { of, drawn: isMirrored ? mirrorDrawn(drawn, strings) : drawn };
    }
    return this.#drawn.drawn;
  }

  /** What is drawn stays at the stop where the teacher is; where there is none, one is made. Rule R55. */
  #keepInk(course: Course): void {
    const { doc, ink } = this.session;
    const place = course.placeOf(this.keychain);
    const near = stopAt(this.lesson, place, course);
    const isHere = near !== undefined && course.far(near.place) === course.far(place);
    const stop = isHere ? near.id : newId();
    if (!isHere) writeStop(doc, { id: stop, place, note: '', waits: false, minutes: null });
    for (const stroke of joinStrokes(ink.shown.strokes, MAX_STROKE_NUMBERS))
      keepDrawing(doc, { id: newId(), stop, stroke });
    ink.clear();
  }

  #wipeInk(course: Course): void {
    const stop = stopAt(this.lesson, course.placeOf(this.keychain), course);
    if (stop !== undefined) dropDrawings(this.session.doc, stop.id);
    this.session.ink.clear();
  }

  #renderPads(keychain: Keychain, course: Course): TemplateResult {
    if (this.#isTeacher && !this.#leads)
      return html`<div class="pads lead"><button class="primary" @click=${() => this.#takeLead(course)}>${t('lesson.lead', { name: this.lesson.lead?.name ?? '' })}</button></div>`;
    return html`<div class="pads" @pointerdown=${this.#hands.onDown} @pointerup=${this.#hands.onUp} @pointercancel=${this.#hands.onCancel} @contextmenu=${(event: Event) => event.preventDefault()}>
        <button class="back" @click=${this.#hands.onClick}>${t('table.backStep')}</button>
        <button class="on primary" @click=${this.#hands.onClick}>${this.#sayOn(keychain, course)}</button>
      </div>`;
  }

  #sayOn({ stage, mounted }: Keychain, { moves }: Course): string {
    if (this.#place !== null) return t('lesson.done');
    if (stage === 'tie') return t('table.on');
    if (stage === 'mount' && mounted >= moves.length) return t('table.next.mount');
    return t(stage === 'cut' ? 'table.on.cut' : 'table.on.mount');
  }

  #renderStrip(course: Course): TemplateResult {
    const { session, lesson, changes } = this;
    const onChanges = (): void => {
      this.changes = '';
    };
    if (this.#isTeacher)
      return teacherStrip({
        changes,
        onChanges,
        session,
        lesson,
        people: this.people,
        course,
        at: this.#leads ? course.placeOf(this.keychain) : lesson.place,
        leads: this.#leads,
        address: `/board/${this.boardId}/lesson?of=${this.lessonId}&roster`,
        isDrawing: this.isDrawing,
        hasInk: this.#seenInk(course).strokes.length > 0,
        onDraw: () => {
          this.isDrawing = !this.isDrawing;
          if (!this.isDrawing) session.point(null);
        },
        onKeep: () => this.#keepInk(course),
        onWipe: () => this.#wipeInk(course),
        onDoor: () => {
          this.open = 'door';
        },
        onPlan: () => {
          this.open = 'plan';
        },
      });
    return learnerStrip({
      changes,
      onChanges,
      session,
      lesson,
      course,
      own: this.own,
      mine: course.placeOf(this.keychain),
      isFollowing: this.#isFollowing,
      called: this.called,
      asked: this.asked,
      onCalled: () => {
        this.called = null;
      },
      onFollow: (isFollowing) => {
        this.called = null;
        this.#change({ isFollowing });
      },
    });
  }

  #renderSettings(course: Course): TemplateResult {
    const onToggle = ({ newState }: ToggleEvent): void => {
      this.isSetting = newState === 'open';
    };
    return html`<div id="settings" class="settings" popover @beforetoggle=${onToggle}>${
      this.isSetting
        ? lessonSettings({
            board: this.board,
            ways: this.ways,
            keychain: this.#seen(course),
            says: this.#isTeacher ? undefined : this.session.says,
            onWays: (ways) => this.#change(ways),
            onView: (view) => this.#turn(view, course),
            onSay: (says) => this.session.say(says),
          })
        : ''
    }</div>`;
  }

  /** The other hand: what is done stays done, under the names that it has for everybody. Rule R46. */
  #turn(view: LessonView, course: Course): void {
    const place = course.placeOf(this.keychain);
    this.#change({ view });
    const turned = this.#courses.read(this.board, view === 'mirror');
    const keychain = { ...this.keychain, view, firstHalf: firstHalfIn(view) };
    this.#keep(turned === null ? keychain : turned.at(place, keychain));
  }
}
