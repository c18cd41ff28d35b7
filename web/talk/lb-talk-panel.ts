/**
 * What is said about the board: threads with their places, the latest first; a box to say something, and one under each thread.
 *
 * What others said is new until it has been in sight. Pointing at a thread lights what it is about.
 *
 * @fires lb-light What a thread is about.
 * @fires lb-open-panel The panel that a thread is about is to be opened.
 */
import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { repeat } from 'lit/directives/repeat.js';
import type { TalkCommand } from '../../engine/document/index.ts';
import { LightEvent, type PanelId, PointedMarks, shownBoard } from '../board/index.ts';
import { Consumer, Subscriptions } from '../context/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { aboutChoices, litOfPin, pinAbout } from './about.ts';
import type { SaidEvent } from './lb-remark-box.ts';
import { piecesOf } from './mention.ts';
import type { Waiting } from './outbox.ts';
import { OpenPanelEvent } from './open-panel-event.ts';
import { type PageHandles, pageHandles } from './page-handles.ts';
import { removeQuestion } from './remove-question.ts';
import { filtered, type ShownRemark, type ShownThread, type TalkFilter } from './shown-talk.ts';
import { talkStyles } from './talk.styles.ts';
import type { TalkDesk } from './talk-desk.ts';
import {
  beginningOf,
  FILTER_KEYS,
  isGone,
  placeName,
  TALKED_PANELS,
  whenSaid,
  whyRefused,
} from './talk-words.ts';

export { LbRemarkBox } from './lb-remark-box.ts';

const MOST_SHOWN = 40;

@spoken
export class LbTalkPanel extends LitElement {
  static override styles = [controls, panelStyles, talkStyles];

  @state() private filter: TalkFilter = 'open';
  @state() private shown = MOST_SHOWN;
  /** What the next thread is about: `board`, `knot`, `row`, `left`, `right`, `peg`, `entry` or `panel:…`. */
  @state() private about = 'board';
  /** The remark that is being changed, and the thread that is being answered; null = none. */
  @state() private changing: string | null = null;
  @state() private answering: string | null = null;
  /** The remark of somebody else that an owner is asked about before it goes; null = none. */
  @state() private removing: string | null = null;
  @state() private problem = '';
  /** Remarks that were new when this panel first showed them; they stay marked while it is open. */
  readonly #fresh = new Set<string>();
  readonly #sight = new IntersectionObserver((entries) => this.#onSight(entries));
  readonly #marks = new PointedMarks(this);
  readonly #handles = new Consumer(this, pageHandles, (handles) => this.#onHandles(handles));
  readonly #subscriptions = new Subscriptions(this);
  /** Thread to bring into sight and to focus once it is there. */
  #wanted: string | null = null;

  constructor() {
    super();
    // Places are called by where they are on the board now.
    new Consumer(this, shownBoard);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    document.addEventListener('visibilitychange', this.#watch);
  }

  override disconnectedCallback(): void {
    this.#sight.disconnect();
    document.removeEventListener('visibilitychange', this.#watch);
    super.disconnectedCallback();
  }

  get #desk(): TalkDesk | null {
    return this.#handles.value?.talk ?? null;
  }

  #onHandles(handles: PageHandles | null): void {
    this.#subscriptions.keep();
    this.#marks.follow(handles?.pointed ?? null);
    if (handles === null || handles.talk === null) return;
    this.#subscriptions.keep(
      handles.talk.subscribe(() => this.requestUpdate()),
      handles.panels.wish.subscribe(() => this.#grant(handles)),
    );
    this.#grant(handles);
  }

  /** Shows what is wanted of the talk. */
  #grant({ panels }: PageHandles): void {
    const wish = panels.wish.value;
    if (wish === null || wish.kind === 'entry') return;
    panels.grant();
    if (wish.kind === 'thread') this.#showThread(wish.thread);
    else this.#showHere(wish.wants);
  }

  /** Shows the threads about a place, or opens the box to say something about it. */
  #showHere(wants: 'say' | 'read'): void {
    const desk = this.#desk;
    if (desk === null || desk.spot === null) return;
    const { spot } = desk;
    if (wants === 'say') {
      this.about = spot.on;
      void this.updateComplete.then(() => this.#focusBox());
      return;
    }
    const found = desk.threads.filter(({ pin, done }) => {
      const at = desk.placeOf(pin);
      if (done !== null) return false;
      if (spot.on === 'entry') return false;
      if (spot.on === 'peg') return at.kind === 'string' && at.place === spot.place;
      return (
        (at.kind === 'knot' && at.place?.row === spot.row && at.place.k === spot.k) ||
        (at.kind === 'row' && at.place === spot.row)
      );
    });
    const latest = found.at(-1);
    if (latest !== undefined) this.#showThread(latest.id);
  }

  /** Brings a thread into sight and puts the keyboard on it. */
  #showThread(id: string): void {
    const thread = this.#desk?.threads.find((one) => one.id === id);
    if (thread === undefined) return;
    if (this.filter !== 'me' || thread.done !== null) this.filter = thread.done === null ? 'open' : 'done';
    this.shown = Number.MAX_SAFE_INTEGER;
    this.#wanted = id;
    this.requestUpdate();
  }

  protected override willUpdate(): void {
    const desk = this.#desk;
    for (const { id } of desk?.threads ?? [])
      for (const remark of desk?.unreadIn(id) ?? []) this.#fresh.add(`${id}:${remark}`);
  }

  protected override updated(): void {
    this.#watch();
    if (this.#wanted === null) return;
    const card = this.renderRoot.querySelector<HTMLElement>(`[data-thread='${this.#wanted}']`);
    if (card === null) return;
    this.#wanted = null;
    card.scrollIntoView({ block: 'nearest' });
    card.focus({ preventScroll: true });
  }

  protected override render(): TemplateResult {
    const desk = this.#desk;
    if (desk === null)
      return html`<h2>${t('panels.talk')}</h2><p class="quiet" role="status">${t('talk.loading')}</p>`;
    const kept = filtered(desk.threads, this.filter, desk.personId);
    return html`
      <h2>${t('panels.talk')}</h2>
      <p class="quiet">${desk.canTalk ? t('talk.lead') : t('talk.reading')}</p>
      ${desk.canTalk ? this.#renderNew(desk) : nothing}
      ${this.problem === '' ? nothing : html`<p class="warn" role="alert">${this.problem}</p>`}
      <div class="choices" role="group" aria-label=${t('talk.filter')}>
        ${(['open', 'done', 'me'] as const).map(
          (filter) => html`<button
            aria-pressed=${filter === this.filter}
            @click=${() => {
              this.filter = filter;
              this.shown = MOST_SHOWN;
            }}
          >${t(FILTER_KEYS[filter])} <span class="number">${filtered(desk.threads, filter, desk.personId).filter(({ isSent }) => isSent).length}</span></button>`,
        )}
      </div>
      <label class="small check"><input type="checkbox" .checked=${desk.hasPins} @change=${(event: Event) => desk.showPins((event.target as HTMLInputElement).checked)} /> ${t('talk.showPins')}</label>
      ${desk.isNewer ? html`<p class="warn" role="alert">${t('talk.newer')}</p>` : nothing}
      ${kept.length > 0 ? nothing : this.#renderNone(desk)}
      <ul class="threads">
        ${repeat(
          kept.slice(0, this.shown),
          ({ id }) => id,
          (thread) => this.#renderThread(desk, thread),
        )}
      </ul>
      ${
        kept.length > this.shown
          ? html`<button @click=${() => {
              this.shown += MOST_SHOWN;
            }}>${t('talk.more', { count: kept.length - this.shown })}</button>`
          : nothing
      }
    `;
  }

  #renderNone(desk: TalkDesk): TemplateResult {
    if (desk.threads.length === 0 && !desk.hasSynced)
      return html`<p class="quiet" role="status">${t(navigator.onLine ? 'talk.loading' : 'talk.notHere')}</p>`;
    const key =
      this.filter === 'open' && !desk.canTalk
        ? 'talk.none.openReading'
        : (`talk.none.${this.filter}` as const);
    return html`<p class="quiet">${t(key)}</p>`;
  }

  #renderNew(desk: TalkDesk): TemplateResult {
    return html`<section class="card new" aria-label=${t('talk.new')}>
      <div class="field">
        <label for="about">${t('talk.about')}</label>
        <select
          id="about"
          .value=${this.about}
          @change=${(event: Event) => {
            this.about = (event.target as HTMLSelectElement).value;
          }}
        >
          ${aboutChoices(desk).map(([value, label]) => html`<option value=${value} ?selected=${value === this.about}>${label}</option>`)}
        </select>
      </div>
      <lb-remark-box
        class="opening"
        .label=${t('talk.text')}
        .action=${t('talk.send')}
        .text=${desk.draftOf(null)}
        .people=${() => desk.people}
        @lb-draft=${({ text }: { text: string }) => this.#keep(desk, null, text)}
        @lb-said=${(event: SaidEvent) => this.#open(desk, event)}
      ></lb-remark-box>
    </section>`;
  }

  #renderThread(desk: TalkDesk, thread: ShownThread): TemplateResult {
    const place = placeName(desk, thread.pin);
    const at = desk.placeOf(thread.pin);
    const lit = litOfPin(desk, thread.pin);
    const light = (): unknown => this.dispatchEvent(new LightEvent(lit));
    const unlight = (): unknown => this.dispatchEvent(new LightEvent(null));
    const knots = lit?.knots?.map(({ row, k }) => `${row}:${k}`).join(' ');
    return html`<li
      class="card thread"
      tabindex="-1"
      data-thread=${thread.id}
      data-knots=${knots ?? nothing}
      data-strings=${lit?.strings?.join(' ') ?? nothing}
      @pointerenter=${light}
      @pointerleave=${unlight}
      @focusin=${light}
      @focusout=${unlight}
    >
      <div class="head">
        <h3 class=${isGone(desk, thread.pin) ? 'gone' : ''}>${
          at.kind === 'entry' && TALKED_PANELS.some((id) => id === at.panel)
            ? html`<button class="place" @click=${() => this.dispatchEvent(new OpenPanelEvent(at.panel as PanelId, at.place))}>${place}</button>`
            : at.kind === 'panel' && TALKED_PANELS.some((id) => id === at.entry)
              ? html`<button class="place" @click=${() => this.dispatchEvent(new OpenPanelEvent(at.entry as PanelId))}>${place}</button>`
              : lit === null
                ? place
                : html`<button class="place" @click=${() => this.dispatchEvent(new LightEvent({ ...lit, isFollowed: true }))}>${place}</button>`
        }</h3>
        ${desk.canTalk && thread.isSent ? this.#renderDone(desk, thread, place) : nothing}
      </div>
      ${thread.done === null ? nothing : html`<p class="small good">${t('talk.doneBy', { name: thread.done.by.name, when: whenSaid(thread.done.at, Date.now()) })}</p>`}
      ${thread.isSent && thread.waiting !== null ? this.#renderWaiting(desk, thread.waiting, thread.id) : nothing}
      <ol>${thread.remarks.map((remark) => this.#renderRemark(desk, thread, remark))}</ol>
      ${desk.canTalk && thread.isSent ? this.#renderAnswer(desk, thread, place) : nothing}
    </li>`;
  }

  #renderDone(desk: TalkDesk, thread: ShownThread, place: string): TemplateResult {
    const isDone = thread.done !== null;
    return html`<button
      class="quiet-button"
      aria-label=${t(isDone ? 'talk.reopenNamed' : 'talk.setDoneNamed', { place })}
      @click=${() => this.#say(desk, { kind: 'set-done', thread: thread.id, done: !isDone })}
    >${t(isDone ? 'talk.reopen' : 'talk.setDone')}</button>`;
  }

  #renderRemark(desk: TalkDesk, thread: ShownThread, remark: ShownRemark): TemplateResult {
    const { by, text, waiting } = remark;
    const key = `${thread.id}:${remark.id}`;
    const isOwn = by.id === desk.personId;
    const isForMe = remark.mentions.includes(desk.personId);
    const names = [...desk.speakers.values(), ...desk.people, desk.self]
      .filter(({ id }) => remark.mentions.includes(id))
      .map(({ name }) => name);
    return html`<li class="remark ${waiting === null ? '' : 'unsent'}" data-remark=${remark.id} data-of=${thread.id}>
      <p class="by small">
        <span class="swatch" style="background: ${by.hex}"></span>
        <bdi class="name">${this.#nameOf(desk, remark)}</bdi>
        ${isOwn ? html`<span class="quiet">(${t('talk.you')})</span>` : nothing}
        <span class="quiet">${whenSaid(remark.at, Date.now())}</span>
        ${this.#fresh.has(key) ? html`<b class="mark">${t('talk.isNew')}</b>` : nothing}
        ${isForMe ? html`<b class="mark me">${t('talk.toYou')}</b>` : nothing}
      </p>
      ${
        text === null
          ? html`<p class="quiet">${t('talk.gone')}</p>`
          : this.changing === key
            ? this.#renderChange(desk, thread, remark)
            : html`<p class="text" dir="auto">${piecesOf(text, names).map(({ text: piece, isName }) => (isName ? html`<b>${piece}</b>` : piece))}</p>`
      }
      ${waiting !== null ? this.#renderWaiting(desk, waiting, thread.isSent ? thread.id : null) : nothing}
      ${
        desk.canTalk && text !== null && waiting === null && this.changing !== key
          ? this.#renderActions(desk, thread, remark, text)
          : nothing
      }
    </li>`;
  }

  /** What one may do with a remark that is there: with one's own, and as an owner with those of others. */
  #renderActions(
    desk: TalkDesk,
    thread: ShownThread,
    remark: ShownRemark,
    text: string,
  ): TemplateResult | typeof nothing {
    const isOwn = remark.by.id === desk.personId;
    if (!isOwn && !desk.isOwner) return nothing;
    const takeBack = ({ currentTarget }: Event): void => {
      // The button goes with the words; the keyboard stays with the thread.
      const card = (currentTarget as HTMLElement).closest<HTMLElement>('.thread');
      this.#say(desk, { kind: 'take-back-remark', thread: thread.id, remark: remark.id });
      card?.focus();
    };
    const [beginning, { name }] = [beginningOf(text), remark.by];
    const key = `${thread.id}:${remark.id}`;
    const isAsked = this.removing === key;
    const ask = ({ currentTarget }: Event): void => {
      this.removing = isAsked ? null : key;
      // The question goes with its buttons; the keyboard goes back to where it was asked.
      (currentTarget as HTMLElement)
        .closest('.remark')
        ?.querySelector<HTMLElement>('[aria-expanded]')
        ?.focus();
    };
    return html`<p class="actions small">
      ${
        isOwn
          ? html`<button class="quiet-button" aria-label=${t('talk.changeNamed', { text: beginning })} @click=${() => this.#beginChange(key)}>${t('talk.change')}</button>
            <button class="quiet-button" aria-label=${t('talk.takeBackNamed', { text: beginning })} @click=${takeBack}>${t('talk.takeBack')}</button>`
          : html`<button class="quiet-button" aria-label=${t('talk.removeNamed', { name, text: beginning })} aria-expanded=${isAsked} @click=${ask}>${t('talk.remove')}</button>`
      }
    </p>
    ${isAsked ? removeQuestion(takeBack, ask) : nothing}`;
  }

  /** Whoever carries the same name as somebody who spoke before, or as oneself, is told apart. */
  #nameOf(desk: TalkDesk, { by }: ShownRemark): string {
    const first = [...desk.speakers.values()].find(({ name }) => name === by.name);
    return first !== undefined && first.id !== by.id ? t('talk.otherOfName', { name: by.name }) : by.name;
  }

  #renderWaiting(desk: TalkDesk, waiting: Waiting, draft: string | null): TemplateResult {
    const { id } = waiting.send;
    const isOnItsWay = desk.isOnItsWay(id);
    return html`<p class="small unsent-note" role="status">
      <span class=${waiting.refused === null ? '' : 'warn'}>${
        waiting.refused !== null
          ? t('talk.refused', { why: whyRefused(waiting.refused) })
          : t(isOnItsWay ? 'talk.sending' : 'talk.waiting')
      }</span>
      ${
        isOnItsWay
          ? nothing
          : html`<button class="quiet-button" @click=${() => desk.retry()}>${t('talk.retry')}</button>
              <button class="quiet-button" @click=${() => this.#takeBack(desk, waiting, draft)}>${t('talk.takeBack')}</button>`
      }
    </p>`;
  }

  #renderAnswer(desk: TalkDesk, thread: ShownThread, place: string): TemplateResult {
    const draft = desk.draftOf(thread.id);
    if (this.answering !== thread.id && draft === '')
      return html`<p class="actions"><button class="answer" aria-label=${t('talk.answerTo', { place })} @click=${() => this.#beginAnswer(thread.id)}>${t('talk.answer')}</button></p>`;
    return html`<lb-remark-box
      class="answering"
      .label=${t('talk.answerTo', { place })}
      .action=${t('talk.sendAnswer')}
      .text=${draft}
      .people=${() => desk.people}
      @lb-draft=${({ text }: { text: string }) => this.#keep(desk, thread.id, text)}
      @lb-said=${({ text, mentions }: SaidEvent) => {
        if (this.#say(desk, { kind: 'answer', thread: thread.id, text, mentions })) {
          desk.keepDraft(thread.id, '');
          this.answering = null;
        }
      }}
    ><button @click=${() => this.#endAnswer(desk, thread.id)}>${t('talk.cancel')}</button></lb-remark-box>`;
  }

  #renderChange(desk: TalkDesk, thread: ShownThread, remark: ShownRemark): TemplateResult {
    return html`<lb-remark-box
      class="changing"
      .label=${t('talk.changeNamed', { text: beginningOf(remark.text ?? '') })}
      .action=${t('talk.save')}
      .text=${remark.text ?? ''}
      .people=${() => desk.people}
      @lb-said=${({ text, mentions }: SaidEvent) => {
        if (this.#say(desk, { kind: 'change-remark', thread: thread.id, remark: remark.id, text, mentions }))
          this.changing = null;
      }}
    ><button @click=${() => {
      this.changing = null;
    }}>${t('talk.cancel')}</button></lb-remark-box>`;
  }

  #open(desk: TalkDesk, { text, mentions }: SaidEvent): void {
    if (!this.#say(desk, { kind: 'open-thread', pin: pinAbout(desk, this.about), text, mentions })) return;
    desk.keepDraft(null, '');
    this.about = 'board';
    if (this.filter === 'done') this.filter = 'open';
    this.requestUpdate();
  }

  #keep(desk: TalkDesk, thread: string | null, text: string): void {
    try {
      desk.keepDraft(thread, text);
      this.requestUpdate();
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      this.problem = t('talk.noRoom');
    }
  }

  /** @returns whether it is kept, to be sent */
  #say(desk: TalkDesk, command: TalkCommand): boolean {
    this.problem = '';
    try {
      desk.say(command);
      return true;
    } catch (error) {
      if (!(error instanceof DOMException)) throw error;
      this.problem = t('talk.noRoom');
      return false;
    }
  }

  #takeBack(desk: TalkDesk, waiting: Waiting, draft: string | null): void {
    const text = desk.takeBack(waiting.send.id);
    if (text === null) {
      this.problem = t('talk.wentOut');
      return;
    }
    // The words come back into the box: they may only have been meant for somewhere else.
    const before = desk.draftOf(draft);
    if (text !== '' && waiting.send.command.kind !== 'change-remark')
      this.#keep(desk, draft, before === '' ? text : `${before}\n${text}`);
    this.requestUpdate();
  }

  #beginAnswer(thread: string): void {
    this.answering = thread;
    this.#focusSoon(`[data-thread='${thread}'] lb-remark-box.answering`);
  }

  #endAnswer(desk: TalkDesk, thread: string): void {
    desk.keepDraft(thread, '');
    this.answering = null;
    this.requestUpdate();
    this.#focusSoon(`[data-thread='${thread}'] .answer`);
  }

  #beginChange(key: string): void {
    this.changing = key;
    this.#focusSoon('lb-remark-box.changing');
  }

  #focusSoon(selector: string): void {
    void this.updateComplete.then(() => this.renderRoot.querySelector<HTMLElement>(selector)?.focus());
  }

  #focusBox(): void {
    const box = this.renderRoot.querySelector<HTMLElement>('lb-remark-box.opening');
    box?.scrollIntoView({ block: 'nearest' });
    box?.focus();
  }

  /** Looks anew at which remarks are in sight: the observer tells of each when it begins to watch it. */
  readonly #watch = (): void => {
    this.#sight.disconnect();
    if (document.visibilityState !== 'visible') return;
    for (const element of this.renderRoot.querySelectorAll<HTMLElement>('[data-remark]')) {
      const { of = '', remark = '' } = element.dataset;
      if (this.#desk?.unreadIn(of).has(remark) === true) this.#sight.observe(element);
    }
  };

  #onSight(entries: readonly IntersectionObserverEntry[]): void {
    for (const { target, isIntersecting } of entries) {
      const { of, remark } = (target as HTMLElement).dataset;
      if (isIntersecting && of !== undefined && remark !== undefined) this.#desk?.look(of, remark);
    }
  }
}
