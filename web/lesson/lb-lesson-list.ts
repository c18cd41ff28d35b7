/** The lessons of a board, for who teaches there: open one, go on with one. */
import { css, html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { canWrite } from '../../engine/document/index.ts';
import { languageChoice } from '../fields/index.ts';
import { pageIcon } from '../icons/index.ts';
import { controls } from '../styles/index.ts';
import { ApiError, fetchStanding, type Version } from '../sync/index.ts';
import { currentLanguage, spoken, t } from '../text/index.ts';
import { boardHeaderStyles } from '../visit/index.ts';
import { sayServerError } from '../words/index.ts';
import { namedVersions, stateChoice } from './board-states.ts';
import {
  fetchLessons,
  fetchPastLessons,
  type LessonAbout,
  openLesson,
  type PastLesson,
} from './lesson-api.ts';
import { keepLink } from './lesson-link.ts';
import { lessonPageStyles } from './lb-lesson-page.styles.ts';

@spoken
export class LbLessonList extends LitElement {
  static override styles = [
    controls,
    boardHeaderStyles,
    lessonPageStyles,
    css`
      ul {
        display: grid;
        gap: var(--lb-space-2);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      button {
        min-height: 56px;
      }
    `,
  ];

  @property({ attribute: false }) boardId = '';
  @state() private lessons: readonly LessonAbout[] | null = null;
  /** Of those that have ended; null while they are not known. */
  @state() private past: readonly PastLesson[] = [];
  @state() private versions: readonly Version[] = [];
  /** Of which it is to be; empty = as it stands now. */
  @state() private version = '';
  @state() private problem = '';

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('boardId'))
      void this.#try(async () => {
        this.past = await fetchPastLessons(this.boardId);
        // To who may look at the board lessons that go on are not there, nor what they would be about.
        const standing = await fetchStanding(this.boardId);
        if (standing === null || standing.branchOf || !canWrite(standing.role, 'lesson')) return;
        this.lessons = await fetchLessons(this.boardId);
        this.versions = await namedVersions(this.boardId);
      });
  }

  async #try(act: () => Promise<void>): Promise<void> {
    this.problem = '';
    try {
      await act();
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = sayServerError(error);
    }
  }

  /** The link's secret is told in this answer alone: this tab keeps it, to show it again. */
  #go(lesson: string, secret: string): void {
    keepLink(lesson, secret);
    location.assign(`/board/${this.boardId}/lesson?of=${lesson}`);
  }

  protected override render(): TemplateResult {
    const open = (): Promise<void> =>
      this.#try(async () => {
        const { id, secret } = await openLesson(this.boardId, this.version || null);
        this.#go(id, secret);
      });
    const going = (this.lessons ?? []).filter(({ endedAt }) => endedAt === null);
    return html`<header><a class="button" href="/board/${this.boardId}" aria-label=${t('table.back')} title=${t('table.back')}>${pageIcon('back')}</a>
        <h1>${t('lesson.heading')}</h1>${languageChoice()}</header>
      <main class="plain">
        <p>${t('lesson.purpose')}</p>
        ${this.problem === '' ? '' : html`<p class="warn" role="alert">${this.problem}</p>`}
        ${
          this.versions.length === 0
            ? ''
            : stateChoice(this.versions, this.version, (version) => {
                this.version = version;
              })
        }
        ${this.lessons === null ? '' : html`<button class="primary" @click=${open}>${t('lesson.open')}</button>`}
        ${
          going.length === 0
            ? ''
            : html`<h2>${t('lesson.going')}</h2><ul>${going.map(
                ({ id, openedAt }) =>
                  html`<li><a class="button" href="/board/${this.boardId}/lesson?of=${id}">${t('lesson.goOn', { when: whenOf(openedAt) })}</a></li>`,
              )}</ul>`
        }
        ${
          this.past.length === 0
            ? ''
            : html`<h2>${t('lesson.past')}</h2><ul>${this.past.map(
                ({ id, openedAt }) =>
                  html`<li><a class="button" href="/board/${this.boardId}/lesson?walk=${id}">${t('lesson.walk', { when: whenOf(openedAt) })}</a></li>`,
              )}</ul>`
        }
      </main>`;
  }
}

function whenOf(at: number): string {
  return new Date(at).toLocaleString(currentLanguage(), { dateStyle: 'medium', timeStyle: 'short' });
}
