/** The one strip of a lesson above the work: for a learner where the teacher is and a call for help, for the teacher who needs help. */
import { html, type TemplateResult } from 'lit';
import type { LearnerEntry, Lesson, LessonPlace, Stop } from '../../engine/document/index.ts';
import type { LessonSession, OwnNews } from '../sync/index.ts';
import { sayList, t } from '../text/index.ts';
import type { Course } from './course.ts';
import { byNeed, needOf, throughCount } from './help-order.ts';
import { sayPlace } from './say-place.ts';
import { stopAt } from './stops.ts';

interface Strip {
  readonly session: LessonSession;
  /** What another state of the board comes to for what is tied here; empty = nothing to say. */
  readonly changes: string;
  readonly onChanges: () => void;
  readonly lesson: Lesson;
  readonly course: Course;
}

export interface LearnerStrip extends Strip {
  readonly own: OwnNews | null;
  readonly mine: LessonPlace;
  readonly isFollowing: boolean;
  /** Where the teacher called everybody to; null = nowhere. */
  readonly called: LessonPlace | null;
  readonly asked: boolean;
  readonly onCalled: () => void;
  readonly onFollow: (isFollowing: boolean) => void;
}

/** A ring thrown to who is in the water: it needs no reading. */
const HELP_SIGN = html`<svg class="sign" viewBox="0 0 24 24" width="28" height="28" fill="none" stroke="currentcolor" stroke-width="2" aria-hidden="true"><circle cx="12" cy="12" r="10" /><circle cx="12" cy="12" r="4.5" /><path d="M5 5l3.8 3.8M19 5l-3.8 3.8M5 19l3.8-3.8M19 19l-3.8-3.8" stroke-width="3" /></svg>`;

/** Names that fit into a strip. */
const MOST_NAMES = 3;

/** Rule R71. */
function renderChanges({ changes, onChanges }: Strip): TemplateResult | '' {
  if (changes === '') return '';
  return html`<p class="note" role="status">${changes} <button @click=${onChanges}>${t('lesson.seen')}</button></p>`;
}

/** Where the teacher is, and how far one is from there. */
function sayWhere({ lesson: { place, lead }, course, mine, isFollowing }: LearnerStrip): string {
  if (place === null) return t('lesson.notBegun');
  const said = { teacher: lead?.name ?? t('lesson.teacher'), place: sayPlace(place, course) };
  const behind = course.far(place) - course.far(mine);
  if (isFollowing) return t(behind < 0 ? 'lesson.doneHere' : 'lesson.follows', said);
  return behind > 0 ? t('lesson.behind', { ...said, count: behind }) : t('lesson.ahead', said);
}

/** Rules R42, R43. */
export function learnerStrip(strip: LearnerStrip): TemplateResult {
  const { session, lesson, course, own, isFollowing, called, asked } = strip;
  const { place, lead } = lesson;
  const isCalling = session.says === 'stuck';
  const teacher = lead?.name ?? t('lesson.teacher');
  const stop = place === null ? undefined : stopAt(lesson, place, course);
  const told = own?.told.at(-1);
  return html`<div class="strip learner">
    <button class="help" aria-pressed=${isCalling ? 'true' : 'false'} @click=${() => session.say(isCalling ? null : 'stuck')}>${HELP_SIGN} ${t('lesson.help')}</button>
    <p class="where" role="status">${isCalling ? t('lesson.helpComes') : sayWhere(strip)} <span class="small quiet">${t('lesson.count', { count: own?.count ?? 0 })}</span></p>
    ${
      place === null
        ? ''
        : isFollowing
          ? html`<button class="pace" @click=${() => strip.onFollow(false)}>${t('lesson.ownPace')}</button>`
          : html`<button class="pace primary" @click=${() => strip.onFollow(true)}>${t('lesson.toTeacher')}</button>`
    }
    ${asked ? html`<button class="primary" @click=${() => session.say('ready')}>${t('lesson.isReady')}</button>` : ''}
    ${called === null ? '' : html`<p class="note" role="status">${t('lesson.look', { place: sayPlace(called, course) })} <button @click=${strip.onCalled}>${t('lesson.seen')}</button></p>`}
    ${renderChanges(strip)}
    ${told === undefined ? '' : html`<p class="note" role="status">${teacher}: ${told.text}</p>`}
    ${stop === undefined || !isFollowing ? '' : renderStop(stop)}
  </div>`;
}

export interface TeacherStrip extends Strip {
  readonly people: readonly LearnerEntry[];
  /** Where who leads is; null before anybody has begun. */
  readonly at: LessonPlace | null;
  readonly leads: boolean;
  /** Of the roster's window. */
  readonly address: string;
  readonly isDrawing: boolean;
  /** Whether something is drawn that could stay. */
  readonly hasInk: boolean;
  readonly onDraw: () => void;
  readonly onKeep: () => void;
  readonly onWipe: () => void;
  readonly onDoor: () => void;
  readonly onPlan: () => void;
}

function renderStop({ note, waits }: Stop): TemplateResult | '' {
  if (note === '' && !waits) return '';
  return html`<p class="note">${note}${waits ? html` <span class="small">${t('lesson.waits')}</span>` : ''}</p>`;
}

/** Rule R55. */
function renderPen({ isDrawing, hasInk, onDraw, onKeep, onWipe }: TeacherStrip): TemplateResult {
  return html`<button aria-pressed=${isDrawing ? 'true' : 'false'} @click=${onDraw}>${t('lesson.draw')}</button>
    ${hasInk ? html`<button @click=${onKeep}>${t('lesson.keep')}</button><button @click=${onWipe}>${t('lesson.wipe')}</button>` : ''}`;
}

/** Rules R50, R53. */
export function teacherStrip(strip: TeacherStrip): TemplateResult {
  const { session, lesson, course, people, leads, address, onDoor, onPlan } = strip;
  const at = strip.at ?? { stage: 'cut', done: 0 };
  const now = session.now();
  const calling = byNeed(people, course, now).filter((one) => {
    const need = needOf(one, now);
    return need === 'stuck' || need === 'hand';
  });
  const waiting = people.filter(({ state }) => state === 'waiting').length;
  const stop = stopAt(lesson, at, course);
  const { through, there } = throughCount(people, stop?.place ?? at, course, now);
  const ready = people.filter(({ state, says }) => state === 'in' && says === 'ready').length;
  const names = sayList(calling.slice(0, MOST_NAMES).map(({ name }) => name));
  const more = calling.length - MOST_NAMES;
  return html`<div class="strip">
    <p role="status">${
      calling.length === 0
        ? t('lesson.nobodyCalls')
        : html`<span class="names">${t('lesson.calls', { names })}</span>${more > 0 ? ` ${t('lesson.more', { count: more })}` : ''}`
    }${leads ? '' : html` <span class="small">${t('lesson.leads', { name: lesson.lead?.name ?? '', place: sayPlace(at, course) })}</span>`}</p>
    <label class="small">${t('lesson.through', { through, there })} <progress max=${Math.max(1, there)} value=${through}></progress></label>
    <button class=${waiting === 0 ? '' : 'primary'} @click=${onDoor}>${waiting === 0 ? t('lesson.door') : t('lesson.letIn', { count: waiting })}</button>
    <a class="button" href=${address} target="larkboard-roster">${t('lesson.roster')}</a>
    <button @click=${onPlan}>${t('lesson.plan')}</button>
    ${leads ? html`<button @click=${() => session.callTo(at)}>${t('lesson.callAll')}</button>` : ''}
    <button @click=${() => session.askReady()}>${t('lesson.askReady')}</button>${ready === 0 ? '' : html` <span class="small">${t('lesson.readyCount', { count: ready })}</span>`}
    ${leads ? renderPen(strip) : ''}
    ${renderChanges(strip)}${stop === undefined ? '' : renderStop(stop)}
  </div>`;
}
