/**
 * Marks on the board where something is said about a knot, a row or a string. They are for the pointer and the finger; the keyboard
 * has the same at the grid's cells, so they are no stops of their own.
 *
 * @fires lb-talk-thread When the threads of a mark are to be read.
 */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import {
  type LbBoard,
  PIN_VIEW_EVENT,
  type PinnedAt,
  type PinView,
  TalkThreadEvent,
} from '../board/index.ts';
import { spoken, t } from '../text/index.ts';
import type { ShownThread } from './shown-talk.ts';
import type { TalkDesk } from './talk-desk.ts';
import { placeName } from './talk-words.ts';

/** Marks drawn at most: more in sight at once nobody can tell apart. */
const MOST_MARKS = 300;

interface Mark {
  readonly at: PinnedAt;
  readonly key: string;
  readonly threads: ShownThread[];
}

const stop = (event: Event): void => event.stopPropagation();

@spoken
export class LbTalkPins extends LitElement {
  static override styles = css`
    :host {
      position: absolute;
      inset: 0;
      overflow: hidden;
      pointer-events: none;
    }
    button {
      position: absolute;
      left: 0;
      top: 0;
      display: grid;
      place-items: center;
      min-width: 24px;
      height: 24px;
      margin: -12px 0 0 -12px;
      padding: 0;
      border: 0;
      background: none;
      pointer-events: auto;
      cursor: pointer;
      touch-action: manipulation;
    }
    span {
      display: grid;
      place-items: center;
      min-width: 18px;
      height: 17px;
      padding: 0 4px;
      box-sizing: border-box;
      border: 2px solid var(--lb-page);
      border-radius: 6px;
      background: var(--lb-text);
      color: var(--lb-page);
      font: 700 10px/1 var(--lb-font);
    }
    .new span {
      background: var(--lb-warn);
    }
    button:hover span {
      outline: 2px solid var(--lb-accent);
    }
    @media (forced-colors: active) {
      span {
        forced-color-adjust: none;
        background: CanvasText;
        color: Canvas;
        border-color: Canvas;
      }
    }
  `;

  @property({ attribute: false }) desk!: TalkDesk;
  /** What the desk shows; another list after each change. */
  @property({ attribute: false }) threads: readonly ShownThread[] = [];
  @property({ type: Boolean }) isFinished = false;
  #board: LbBoard | null = null;

  override connectedCallback(): void {
    super.connectedCallback();
    this.#board = this.parentElement as LbBoard | null;
    this.#board?.addEventListener(PIN_VIEW_EVENT, this.#onView);
  }

  override disconnectedCallback(): void {
    this.#board?.removeEventListener(PIN_VIEW_EVENT, this.#onView);
    super.disconnectedCallback();
  }

  protected override render(): TemplateResult | typeof nothing {
    const view = this.#view();
    if (view === null) return nothing;
    const marks = this.#marks().flatMap((mark) => {
      const point = view.pointOf(mark.at);
      const isSeen =
        point !== null &&
        point.x > -12 &&
        point.x < view.width + 12 &&
        point.y > -12 &&
        point.y < view.height + 12;
      return isSeen ? [{ mark, point }] : [];
    });
    return html`<div aria-hidden="true">${marks.slice(0, MOST_MARKS).map(({ mark, point }) => this.#renderMark(mark, point))}</div>`;
  }

  #renderMark({ threads }: Mark, { x, y }: { readonly x: number; readonly y: number }): TemplateResult {
    const count = threads.reduce(
      (sum, { remarks }) => sum + remarks.filter(({ text }) => text !== null).length,
      0,
    );
    const isNew = threads.some(({ id }) => this.desk.unreadIn(id).size > 0);
    const latest = threads[threads.length - 1] as ShownThread;
    return html`<button
      tabindex="-1"
      class=${isNew ? 'new' : ''}
      style="transform: translate(${Math.round(x)}px, ${Math.round(y)}px)"
      title=${t('talk.pin', { count, place: placeName(this.desk, latest.pin) })}
      @pointerdown=${stop}
      @pointerup=${stop}
      @contextmenu=${stop}
      @click=${(event: Event) => {
        event.stopPropagation();
        this.dispatchEvent(new TalkThreadEvent(latest.id));
      }}
    ><span>${count}</span></button>`;
  }

  #marks(): readonly Mark[] {
    const marks = new Map<string, Mark>();
    for (const thread of this.threads) {
      if (thread.done !== null) continue;
      const pinned = this.desk.placeOf(thread.pin);
      if (pinned.kind === 'board' || pinned.kind === 'panel' || pinned.kind === 'entry') continue;
      if (pinned.place === null) continue;
      const at: PinnedAt =
        pinned.kind === 'knot'
          ? { kind: 'knot', ...pinned.place }
          : pinned.kind === 'row'
            ? { kind: 'row', row: pinned.place }
            : { kind: 'string', string: pinned.place };
      const key = JSON.stringify(at);
      const mark = marks.get(key);
      if (mark === undefined) marks.set(key, { at, key, threads: [thread] });
      else mark.threads.push(thread);
    }
    return [...marks.values()];
  }

  #view(): PinView | null {
    return this.#board?.pinView(this.isFinished) ?? null;
  }

  readonly #onView = (): void => this.requestUpdate();
}
