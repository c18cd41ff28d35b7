/** The door of a lesson: the learners' link, as a code for cameras too, who waits, the lock, the end. On the teacher's screen a dialog, in the roster a part of it. */
import { css, html, LitElement, nothing, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { LearnerEntry } from '../../engine/document/index.ts';
import { controls } from '../styles/index.ts';
import { ApiError, type Version } from '../sync/index.ts';
import { codeDrawing, reachableOrigins } from '../table/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';
import { namedVersions, stateChoice } from './board-states.ts';
import { endLesson, type LessonAbout, lockLesson, movePeople, takeBoard } from './lesson-api.ts';
import { knownLink, makeLink } from './lesson-link.ts';

/** So long the server keeps a roster at most. */
const DAYS = 30;

/** @fires lb-close When the dialog is closed. */
@spoken
export class LbLessonDoor extends LitElement {
  static override styles = [
    controls,
    css`
      dialog {
        width: min(94vw, 30rem);
        max-height: 94dvh;
        overflow: auto;
        padding: var(--lb-space-3);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        color: var(--lb-text);
      }
      .inside {
        display: grid;
        gap: var(--lb-space-3);
      }
      .line {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        gap: var(--lb-space-2);
      }
      .code {
        width: min(100%, 15rem, 50dvh);
        border-radius: var(--lb-radius-small);
        forced-color-adjust: none;
      }
      output {
        overflow-wrap: anywhere;
        user-select: all;
      }
      ul {
        display: grid;
        gap: var(--lb-space-1);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: flex;
        flex-wrap: wrap;
        align-items: center;
        justify-content: space-between;
        gap: var(--lb-space-2);
      }
      button {
        min-height: 44px;
      }
    `,
  ];

  @property({ attribute: false }) about!: LessonAbout;
  @property({ attribute: false }) people: readonly LearnerEntry[] = [];
  @property({ attribute: false }) isLocked = false;
  @property({ type: Boolean }) isDialog = false;
  /** Where learners may reach the server; null while that is not known. */
  @state() private origins: readonly string[] | null = null;
  @state() private origin = '';
  /** Of the board, while another state of it is chosen; null = not now. */
  @state() private versions: readonly Version[] | null = null;
  @state() private version = '';
  @state() private isEnding = false;
  @state() private problem = '';
  @state() private news = '';

  protected override willUpdate(changed: PropertyValues): void {
    if (changed.has('about') && this.origins === null) void this.#do(() => this.#findOrigins());
  }

  protected override firstUpdated(): void {
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  async #findOrigins(): Promise<void> {
    this.origins = await reachableOrigins(this.about.board, location);
    this.origin = this.origins[0] ?? location.origin;
  }

  async #do(act: () => Promise<void>): Promise<void> {
    this.problem = '';
    this.news = '';
    try {
      await act();
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.problem = sayServerError(error);
    }
    this.requestUpdate();
  }

  protected override render(): TemplateResult {
    const inside = html`<div class="inside">
      <div class="line"><h2 id="door">${t('lesson.door')}</h2>${this.isDialog ? html`<button @click=${this.#close}>${t('lesson.close')}</button>` : ''}</div>
      ${this.problem === '' ? '' : html`<p class="warn" role="alert">${this.problem}</p>`}
      <p role="status">${this.news}</p>
      ${this.#renderWaiting()}${this.#renderLink()}${this.#renderLock()}${this.#renderEnd()}
    </div>`;
    return this.isDialog
      ? html`<dialog aria-labelledby="door" @close=${() => this.dispatchEvent(new Event('lb-close'))}>${inside}</dialog>`
      : html`<section aria-labelledby="door">${inside}</section>`;
  }

  readonly #close = (): void => this.renderRoot.querySelector('dialog')?.close();

  #renderWaiting(): TemplateResult | typeof nothing {
    const { id } = this.about;
    const waiting = this.people.filter(({ state }) => state === 'waiting');
    if (waiting.length === 0) return nothing;
    return html`<div class="line"><b>${t('lesson.waiting', { count: waiting.length })}</b><button class="primary" @click=${() => this.#do(() => movePeople(id, null, 'in'))}>${t('lesson.letInAll')}</button></div>
      <ul>${waiting.map(
        ({ person, name }) =>
          html`<li class="waiting"><span>${name}</span><span class="line"><button @click=${() => this.#do(() => movePeople(id, [person], 'in'))}>${t('lesson.letInOne')}</button><button @click=${() => this.#do(() => movePeople(id, [person], 'out'))}>${t('lesson.putOut')}</button></span></li>`,
      )}</ul>`;
  }

  /** The link, where this browser knows it, and a code of it for cameras. Rule R40. */
  #renderLink(): TemplateResult | typeof nothing {
    const { origins, about } = this;
    if (origins === null) return nothing;
    const link = knownLink(this.origin, about.board, about.id);
    if (link === null)
      return html`<p>${t('lesson.noLink')}</p><div class="line"><button class="primary" @click=${() => this.#do(() => makeLink(about.id))}>${t('lesson.newLink')}</button></div>`;
    const copy = async (): Promise<void> => {
      await navigator.clipboard.writeText(link);
      this.news = t('lesson.copied');
    };
    return html`<p>${t('lesson.linkFor')}</p>
      ${codeDrawing(link, t('lesson.code'))}
      <output>${link}</output>
      ${origins.length === 0 ? html`<p class="warn" role="status">${t('lesson.loopback')}</p>` : ''}
      ${
        origins.length < 2
          ? ''
          : html`<label>${t('lesson.which')}<select @change=${(event: Event) => {
              this.origin = (event.target as HTMLSelectElement).value;
            }}>${origins.map((one) => html`<option value=${one} ?selected=${one === this.origin}>${one}</option>`)}</select></label>`
      }
      <div class="line">${'clipboard' in navigator ? html`<button @click=${copy}>${t('lesson.copy')}</button>` : ''}
        <button @click=${() => this.#do(() => makeLink(about.id))}>${t('lesson.newLink')}</button></div>`;
  }

  #renderLock(): TemplateResult {
    const { id } = this.about;
    const { isLocked } = this;
    return html`<div class="line">
      <button aria-pressed=${isLocked ? 'true' : 'false'} @click=${() => this.#do(() => lockLesson(id, !isLocked))}>${t('lesson.lock')}</button>
      ${this.#renderState()}</div>`;
  }

  /** Another state of the board, by which everybody's tied knots are compared. Rule R71. */
  #renderState(): TemplateResult {
    const { id, board } = this.about;
    const { versions } = this;
    const choose = (): Promise<void> =>
      this.#do(async () => {
        this.versions = await namedVersions(board);
      });
    if (versions === null) return html`<button @click=${choose}>${t('lesson.takeBoard')}</button>`;
    const take = (): Promise<void> =>
      this.#do(async () => {
        await takeBoard(id, this.version || null);
        this.versions = null;
        this.news = t('lesson.taken');
      });
    return html`${stateChoice(versions, this.version, (version) => {
      this.version = version;
    })}<button class="primary" @click=${take}>${t('lesson.take')}</button>`;
  }

  #renderEnd(): TemplateResult {
    const { id } = this.about;
    const end = (keepDays: number): Promise<void> => this.#do(() => endLesson(id, keepDays));
    const ask = (isEnding: boolean) => (): void => {
      this.isEnding = isEnding;
    };
    return html`<div class="line">${
      this.isEnding
        ? html`<span>${t('lesson.endSure')}</span><button class="primary" @click=${() => end(0)}>${t('lesson.endForget')}</button>
          <button @click=${() => end(DAYS)}>${t('lesson.endKeep', { days: DAYS })}</button>
          <button @click=${ask(false)}>${t('table.no')}</button>`
        : html`<button @click=${ask(true)}>${t('lesson.end')}</button>`
    }</div>`;
  }
}
