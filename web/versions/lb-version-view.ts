/**
 * Versions over the page: one to look at, or all of them one after the other, oldest first, up to the present.
 *
 * Playing never begins by itself. Who prefers less motion gets longer steps.
 *
 * @fires lb-bring-back The version that is to be brought back.
 * @fires lb-looked-at Another version is looked at, or none any more.
 */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, query, state } from 'lit/decorators.js';
import { type Design, type KeyedDesign, readKeyed } from '../../engine/document/index.ts';
import type { Board } from '../../engine/index.ts';
import { pageIcon } from '../icons/index.ts';
import { controls } from '../styles/index.ts';
import { ApiError, type Version } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';
import { changedCells } from './changed-cells.ts';
import type { PictureScale } from './lb-version-picture.ts';
import type { VersionShelf } from './version-shelf.ts';
import { momentOf, titleOf } from './version-time.ts';
import { viewStyles } from './versions.styles.ts';

const STEP_MS = 1_100;
const CALM_STEP_MS = 3_000;
/** Fetched ahead of the one that is shown. */
const AHEAD = 3;

/** What is shown: a version, or the board as it is now. */
export type Shown = Version | 'now';

/** Somebody wants a version back. */
export class BringBackEvent extends Event {
  readonly version: Version;

  constructor(version: Version) {
    super('lb-bring-back', { bubbles: true, composed: true });
    this.version = version;
  }
}

/** Somebody looks at a version; null = at none any more. */
export class LookedAtEvent extends Event {
  readonly version: Version | null;

  constructor(version: Version | null) {
    super('lb-looked-at', { bubbles: true, composed: true });
    this.version = version;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-looked-at': LookedAtEvent;
    'lb-bring-back': BringBackEvent;
  }
}

@spoken
export class LbVersionView extends LitElement {
  static override styles = [controls, viewStyles];

  @property({ attribute: false }) shelf!: VersionShelf;
  /** The board as it is now. */
  @property({ attribute: false }) board!: Board;
  /** The live design, for comparing with it. */
  @property({ attribute: false }) design!: Design;
  @property({ type: Boolean }) canEdit = false;
  @state() private mode: 'look' | 'play' | 'pair' = 'look';
  /** Oldest first. */
  @state() private steps: readonly Shown[] = [];
  @state() private at = 0;
  @state() private isPlaying = false;
  @state() private problem = '';
  /** The last step whose picture there is: it stays until the next one is fetched. */
  @state() private seen = 0;
  @query('dialog') private dialog!: HTMLDialogElement;
  /** The live design under its ids, while it is one of two compared. */
  #now: KeyedDesign | null = null;
  #timer: ReturnType<typeof setTimeout> | undefined;
  readonly #calm = matchMedia('(prefers-reduced-motion: reduce)');

  override disconnectedCallback(): void {
    this.#pause();
    super.disconnectedCallback();
  }

  /** One version, with those before and after it to go on to. `steps`: oldest first. */
  look(steps: readonly Shown[], at: number): Promise<void> {
    return this.#show('look', steps, at);
  }

  /** All of them, from the first on. */
  play(steps: readonly Shown[]): Promise<void> {
    return this.#show('play', steps, 0);
  }

  /** Two side by side. Needs the part `compare`. */
  pair(before: Shown, after: Shown): Promise<void> {
    return this.#show('pair', [before, after], 1);
  }

  close(): void {
    this.dialog.close();
  }

  async #show(mode: typeof this.mode, steps: readonly Shown[], at: number): Promise<void> {
    await this.updateComplete;
    this.mode = mode;
    this.steps = steps;
    this.at = at;
    this.seen = at;
    if (!this.dialog.open) this.dialog.showModal();
    this.#fetch();
    this.#tell();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (this.mode !== 'pair' || !this.steps.includes('now')) this.#now = null;
    else if (this.#now === null || changed.has('board')) this.#now = readKeyed(this.design.doc);
  }

  protected override render(): TemplateResult {
    return html`<dialog aria-labelledby="heading" @close=${this.#onClose}>
      ${
        this.steps.length === 0
          ? ''
          : html`<div class="frame">
            <div class="top">
              <div>
                <h2 id="heading">${this.mode === 'look' ? this.#nameOf(this.#step) : t(`versions.${this.mode}.heading`)}</h2>
                ${this.mode === 'look' ? html`<p class="quiet small">${this.#sizeOf(this.#step)}</p>` : ''}
              </div>
              <button @click=${() => this.close()}>${t('app.close')}</button>
            </div>
            ${this.mode === 'pair' ? this.#renderPair() : this.#renderOne()}
            <div class="bottom" ?hidden=${this.mode === 'pair' && this.problem === ''}>
              <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
              ${this.mode === 'pair' ? '' : this.#renderPlayer()}
            </div>
          </div>`
      }
    </dialog>`;
  }

  get #step(): Shown {
    return this.steps[this.at]!;
  }

  #boardOf(shown: Shown | undefined): Board | null {
    if (shown === undefined) return null;
    return shown === 'now' ? this.board : this.shelf.peek(shown.id);
  }

  /** All steps at one scale, so that growth is seen. */
  get #scale(): PictureScale {
    const sizes = this.steps.map((step) =>
      step === 'now'
        ? { strings: this.board.pattern.colours.length, rows: this.board.pattern.rows }
        : { strings: step.strings, rows: step.rows },
    );
    return {
      strings: Math.max(...sizes.map(({ strings }) => strings)),
      rows: Math.max(...sizes.map(({ rows }) => rows)),
    };
  }

  #nameOf(shown: Shown): string {
    return shown === 'now'
      ? t('versions.now')
      : t('versions.named', { name: titleOf(shown), when: momentOf(shown.at) });
  }

  #sizeOf(shown: Shown): string {
    const board = this.#boardOf(shown);
    const strings = shown === 'now' ? (board?.pattern.colours.length ?? 0) : shown.strings;
    const rows = shown === 'now' ? (board?.pattern.rows ?? 0) : shown.rows;
    return t('versions.size', { strings, rows });
  }

  #renderOne(): TemplateResult {
    const step = this.steps[this.seen]!;
    const board = this.#boardOf(step);
    const before = this.mode === 'play' ? this.#boardOf(this.steps[this.seen - 1]) : null;
    const changes = board === null || before === null ? null : changedCells(before, board);
    return html`<div class="pictures">
      <figure aria-busy=${this.#boardOf(this.#step) === null}>
        <figcaption role="status">
          ${
            this.mode === 'look'
              ? board === null
                ? t('versions.loading')
                : ''
              : html`<b>${this.#nameOf(step)}</b> <span class="quiet">${this.#sizeOf(step)}</span>`
          }
        </figcaption>
        <lb-version-picture
          role="img"
          aria-label=${t('versions.picture', { name: this.#nameOf(step) })}
          .board=${board}
          .scale=${this.mode === 'play' ? this.#scale : null}
          .marks=${changes?.cells ?? null}
        ></lb-version-picture>
      </figure>
    </div>`;
  }

  #renderPair(): TemplateResult {
    const [first, second] = this.steps.map((step) =>
      step === 'now' ? this.#now : this.shelf.peekDesign(step.id),
    );
    if (!first || !second) return html`<p class="pictures" role="status">${t('versions.loading')}</p>`;
    const captions = this.steps.map((step) => this.#nameOf(step));
    return html`<lb-compare class="both" .first=${first} .second=${second} .captions=${captions}></lb-compare>`;
  }

  #renderPlayer(): TemplateResult {
    const last = this.steps.length - 1;
    const step = this.#step;
    return html`<div class="player">
        <span class="steps">
          ${
            this.mode === 'play'
              ? html`<button class="primary" @click=${this.#onPlay}>${t(this.isPlaying ? 'versions.pause' : 'versions.play')}</button>`
              : ''
          }
          <button aria-label=${t('versions.earlier')} title=${t('versions.earlier')} ?disabled=${this.at === 0} @click=${() => this.#go(this.at - 1)}>
            <span class="turns" aria-hidden="true">◀</span>
          </button>
          <button aria-label=${t('versions.later')} title=${t('versions.later')} ?disabled=${this.at === last} @click=${() => this.#go(this.at + 1)}>
            <span class="turns" aria-hidden="true">▶</span>
          </button>
        </span>
        <input
          type="range"
          min="0"
          max=${last}
          aria-label=${t('versions.slider')}
          aria-valuetext=${this.#nameOf(step)}
          .value=${String(this.at)}
          @input=${(event: Event) => this.#go(Number((event.target as HTMLInputElement).value))}
        />
        <span class="small quiet">${t('versions.step', { step: this.at + 1, steps: this.steps.length })}</span>
      </div>
      ${
        this.canEdit && step !== 'now'
          ? html`<div class="actions">
            <button @click=${() => this.dispatchEvent(new BringBackEvent(step))}>${pageIcon('undo')}${t('versions.bringBack')}</button>
          </div>`
          : ''
      }`;
  }

  /** Shows a step; the hand on the slider ends the playing. */
  #go(at: number): void {
    this.#pause();
    this.at = Math.max(0, Math.min(this.steps.length - 1, at));
    this.#fetch();
    this.#tell();
  }

  /** Fetches the step that is wanted and those that follow. */
  #fetch(): void {
    this.problem = '';
    const wanted =
      this.mode === 'pair' ? this.steps : this.steps.slice(Math.max(0, this.at - 1), this.at + 1 + AHEAD);
    for (const step of wanted) if (step !== 'now') void this.#fetchOne(step);
    if (this.#boardOf(this.#step) !== null) this.seen = this.at;
  }

  async #fetchOne(step: Version): Promise<void> {
    try {
      await this.shelf.design(step.id);
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      // One that is only fetched ahead says so when it is its turn.
      if (this.mode === 'pair' || step === this.#step) {
        this.problem = t(error.kind === 'unreachable' ? 'versions.offline' : 'versions.cannotRead', {
          why: sayServerError(error),
        });
        this.#pause();
      }
      return;
    }
    if (step === this.#step) this.seen = this.at;
    this.requestUpdate();
  }

  readonly #onPlay = (): void => {
    if (this.isPlaying) {
      this.#pause();
      return;
    }
    if (this.at === this.steps.length - 1) this.#go(0);
    this.isPlaying = true;
    this.#tick();
  };

  #tick(): void {
    this.#timer = setTimeout(
      () => {
        // What is not fetched yet is waited for.
        if (this.seen === this.at) {
          this.at += 1;
          this.#fetch();
        }
        if (this.at < this.steps.length - 1) this.#tick();
        else this.#pause();
      },
      this.#calm.matches ? CALM_STEP_MS : STEP_MS,
    );
  }

  readonly #onClose = (): void => {
    this.#pause();
    this.dispatchEvent(new LookedAtEvent(null));
  };

  /** What is played is looked at in passing. */
  #tell(): void {
    const step = this.#step;
    this.dispatchEvent(new LookedAtEvent(this.mode === 'play' || step === 'now' ? null : step));
  }

  #pause(): void {
    clearTimeout(this.#timer);
    this.isPlaying = false;
  }
}
