/** The plan of a lesson: drafted from the board in one click, then each stop's note, whether all are waited for, minutes thought of. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, query } from 'lit/decorators.js';
import {
  type Lesson,
  MAX_STOP_CHARACTERS,
  removeStop,
  type Stop,
  writePlan,
  writeStop,
} from '../../engine/document/index.ts';
import { typedValue } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { type LessonSession, newId } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import type { Course } from './course.ts';
import { draftPlan, type StopReason } from './draft-plan.ts';
import { sayPlace } from './say-place.ts';
import { plannedStops } from './stops.ts';

const MOST_MINUTES = 600;

/** @fires lb-close When it is closed. */
@spoken
export class LbLessonPlan extends LitElement {
  static override styles = [
    controls,
    css`
      dialog {
        width: min(96vw, 40rem);
        max-height: 90dvh;
        padding: var(--lb-space-3);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        color: var(--lb-text);
        overflow: auto;
      }
      ol {
        display: grid;
        gap: var(--lb-space-3);
        margin: var(--lb-space-3) 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: grid;
        gap: var(--lb-space-1);
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--lb-space-2);
      }
      textarea {
        width: 100%;
        min-height: 44px;
      }
      input[type='number'] {
        width: 5rem;
      }
    `,
  ];

  @property({ attribute: false }) lesson!: Lesson;
  @property({ attribute: false }) session!: LessonSession;
  @property({ attribute: false }) course!: Course;
  @query('dialog') private dialog!: HTMLDialogElement;

  protected override firstUpdated(): void {
    this.dialog.showModal();
  }

  protected override render(): TemplateResult {
    const stops = plannedStops(this.lesson, this.course);
    return html`<dialog aria-labelledby="plan" @close=${() => this.dispatchEvent(new Event('lb-close'))}>
      <div class="line"><h2 id="plan">${t('lesson.plan')}</h2><button @click=${() => this.dialog.close()}>${t('lesson.close')}</button></div>
      ${stops.length === 0 ? html`<p>${t('lesson.planEmpty')}</p>` : ''}
      <button class=${stops.length === 0 ? 'primary' : ''} @click=${() => this.#draft()}>${t(stops.length === 0 ? 'lesson.draft' : 'lesson.draftAnew')}</button>
      <ol>${stops.map((stop) => this.#renderStop(stop))}</ol>
    </dialog>`;
  }

  #draft(): void {
    const say = (reason: StopReason): string =>
      'row' in reason ? t(`lesson.stop.${reason.why}`, { row: reason.row }) : t(`lesson.stop.${reason.why}`);
    writePlan(this.session.doc, draftPlan(this.course, say, newId));
  }

  #renderStop(stop: Stop): TemplateResult {
    const change = (patch: Partial<Stop>): void => writeStop(this.session.doc, { ...stop, ...patch });
    const minutesOf = (event: Event): number | null => {
      const value = (event.target as HTMLInputElement).valueAsNumber;
      return Number.isFinite(value) && value > 0 ? value : null;
    };
    return html`<li>
      <div class="line"><b>${sayPlace(stop.place, this.course)}</b>
        <label><input type="checkbox" .checked=${stop.waits} @change=${(event: Event) => change({ waits: (event.target as HTMLInputElement).checked })} /> ${t('lesson.waits')}</label>
        <label><input type="number" min="1" max=${MOST_MINUTES} .value=${typedValue(stop.minutes === null ? '' : String(stop.minutes))} @change=${(event: Event) => change({ minutes: minutesOf(event) })} /> ${t('lesson.minutes')}</label>
        <button aria-label=${t('lesson.removeStop')} title=${t('lesson.removeStop')} @click=${() => removeStop(this.session.doc, stop.id)}>×</button></div>
      <textarea aria-label=${t('lesson.note')} maxlength=${MAX_STOP_CHARACTERS} rows="2" .value=${typedValue(stop.note)} @change=${(event: Event) => change({ note: (event.target as HTMLTextAreaElement).value })}></textarea>
    </li>`;
  }
}
