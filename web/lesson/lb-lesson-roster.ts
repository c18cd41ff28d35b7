/**
 * The roster of a lesson in a window of its own: the door, who needs help first, where everybody is, the class as a bar over the steps. Of
 * teachers alone.
 */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type LearnerEntry, MAX_TOLD_CHARACTERS, readPlace } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { languageChoice } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { ApiError, type LessonSession } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { boardHeaderStyles } from '../visit/index.ts';
import { sayServerError, sayTitle } from '../words/index.ts';
import type { Course } from './course.ts';
import { CourseReader } from './course-reader.ts';
import { byNeed, farOf, needOf } from './help-order.ts';
import { type LessonAbout, movePeople } from './lesson-api.ts';
import { sayPlace } from './say-place.ts';

const TICK_MS = 5_000;
/** What is said with one tap. */
const ANSWERS = ['seen', 'look', 'undo', 'well'] as const;

@spoken
export class LbLessonRoster extends LitElement {
  static override styles = [
    controls,
    boardHeaderStyles,
    css`
      :host {
        display: block;
      }
      main {
        display: grid;
        gap: var(--lb-space-4);
        max-width: 60rem;
        margin-inline: auto;
        padding: var(--lb-space-3);
      }
      section {
        display: grid;
        gap: var(--lb-space-2);
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--lb-space-2);
      }
      ul {
        display: grid;
        gap: var(--lb-space-1);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: grid;
        grid-template-columns: minmax(6rem, 1fr) minmax(8rem, 1.4fr) auto;
        align-items: center;
        gap: var(--lb-space-2);
        min-height: 44px;
        padding: 2px var(--lb-space-2);
        border-inline-start: 6px solid transparent;
        border-block-end: 1px solid var(--lb-line);
      }
      li.stuck,
      li.hand {
        border-inline-start-color: var(--lb-warn);
        font-weight: 700;
      }
      .swatches {
        display: inline-flex;
        gap: 1px;
      }
      .swatches span {
        width: 12px;
        height: 12px;
        border: 1px solid var(--lb-line-strong);
        forced-color-adjust: none;
      }
      .class {
        position: relative;
        height: 28px;
        border: 1px solid var(--lb-line-strong);
        border-radius: 4px;
      }
      .class span {
        position: absolute;
        inset-block: 3px;
        width: 5px;
        border-radius: 2px;
        background: var(--lb-accent);
      }
      .class .teacher {
        inset-block: -3px;
        background: var(--lb-text);
      }
      output {
        overflow-wrap: anywhere;
      }
      form {
        grid-column: 1 / -1;
      }
      @media (max-width: 480px) {
        li {
          grid-template-columns: minmax(0, 1fr) auto;
        }
      }
    `,
  ];

  @property({ attribute: false }) session!: LessonSession;
  @property({ attribute: false }) people: readonly LearnerEntry[] = [];
  @property({ attribute: false }) board!: Board;
  @property({ attribute: false }) about!: LessonAbout;
  @state() private problem = '';
  /** Person to whom something is being said; empty = nobody. */
  @state() private telling = '';
  readonly #courses = new CourseReader(this);
  #tick: ReturnType<typeof setInterval> | undefined;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#tick = setInterval(() => this.requestUpdate(), TICK_MS);
  }

  override disconnectedCallback(): void {
    clearInterval(this.#tick);
    super.disconnectedCallback();
  }

  async #do(act: () => Promise<void>): Promise<void> {
    this.problem = '';
    try {
      await act();
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = sayServerError(error);
    }
  }

  protected override render(): TemplateResult {
    document.title = `${t('lesson.roster')} · ${sayTitle(this.board)}`;
    const course = this.#courses.read(this.board, false);
    return html`<header><h1>${t('lesson.roster')} · ${sayTitle(this.board)}</h1>${languageChoice()}</header>
      <main>
        ${this.problem === '' ? '' : html`<p class="warn" role="alert">${this.problem}</p>`}
        ${course === null ? this.#courses.pending(this.board) : this.#renderPeople(course)}
        <lb-lesson-door .about=${this.about} .people=${this.people} .isLocked=${this.session.isLocked}></lb-lesson-door>
      </main>`;
  }

  #renderPeople(course: Course): TemplateResult {
    const { session } = this;
    const now = session.now();
    const people = byNeed(this.people, course, now);
    const { place } = session.lesson;
    const share = (far: number): number => (100 * Math.max(0, far)) / Math.max(1, course.length);
    return html`<section><h2>${t('lesson.people', { count: people.length })}</h2>
      <div class="line"><button @click=${() => session.askReady()}>${t('lesson.askReady')}</button>
        <span>${t('lesson.readyCount', { count: people.filter(({ says }) => says === 'ready').length })}</span></div>
      <div class="class" role="img" aria-label=${t('lesson.bar')}>${people.map((one) => html`<span title=${one.name} style="inset-inline-start: ${share(farOf(one.place, course))}%"></span>`)}
        ${place === null ? '' : html`<span class="teacher" title=${t('lesson.teacher')} style="inset-inline-start: ${share(course.far(place))}%"></span>`}</div>
      <ul>${people.map((one) => this.#renderPerson(one, course, now))}</ul></section>`;
  }

  #renderPerson(one: LearnerEntry, course: Course, now: number): TemplateResult {
    const { person, name, place, colours, told, saidAt, seenAt } = one;
    const at = readPlace(place);
    const need = needOf(one, now);
    const minutes = Math.floor((now - (need === 'no-sign' ? seenAt : saidAt)) / 60_000);
    const { id } = this.about;
    const never = need === 'no-sign' && seenAt === 0;
    return html`<li class=${need ?? ''}>
      <span><b>${name}</b> <span class="swatches" aria-hidden="true">${colours.map((hex) => html`<span style="background: ${hex}"></span>`)}</span></span>
      <span>${at === null ? '–' : sayPlace(at, course)}${need === null ? '' : html` · ${never ? t('lesson.neverSeen') : t(`lesson.need.${need}`, { minutes })}`}</span>
      <span class="line"><button @click=${() => this.#open(person)} aria-expanded=${this.telling === person ? 'true' : 'false'}>${t('lesson.answer')}</button>
        <button @click=${() => this.#do(() => movePeople(id, [person], 'out'))}>${t('lesson.putOut')}</button></span>
      ${this.telling === person ? this.#renderTelling(person, told.at(-1)?.text) : ''}
    </li>`;
  }

  #open(person: string): void {
    this.telling = this.telling === person ? '' : person;
  }

  #renderTelling(person: string, last: string | undefined): TemplateResult {
    const say = (text: string): void => {
      this.session.tell(person, text);
      this.telling = '';
    };
    const tell = (event: SubmitEvent): void => {
      event.preventDefault();
      const words = new FormData(event.target as HTMLFormElement).get('words');
      if (typeof words === 'string' && words.trim() !== '') say(words.trim());
    };
    return html`<form class="line" @submit=${tell}>
      ${ANSWERS.map((one) => html`<button type="button" @click=${() => say(t(`lesson.answer.${one}`))}>${t(`lesson.answer.${one}`)}</button>`)}
      <label>${t('lesson.words')} <input name="words" maxlength=${MAX_TOLD_CHARACTERS} autocomplete="off" autofocus /></label>
      <button class="primary">${t('lesson.tell')}</button>
      ${last === undefined ? '' : html`<span class="small quiet">${last}</span>`}
    </form>`;
  }
}
