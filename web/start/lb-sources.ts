/**
 * A board from a text or from an image: what is wished and the finished keychain that shows it stand beside each other, with what it comes
 * to. The image is read, decoded and worked on in the browser alone.
 *
 * @fires lb-make-boards The board is to be made.
 */
import { html, LitElement, nothing, type TemplateResult } from 'lit';
import { query, state } from 'lit/decorators.js';
import { MAX_STRINGS, MIN_STRINGS, type PaletteColour, type Wish } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import { readUnit } from '../units/index.ts';
import { BackgroundJob, type StartJob, type Started } from '../worker/index.ts';
import { MakeBoardsEvent } from './begin-events.ts';
import { readImage } from './image-file.ts';
import { type ImageFault, MOST_PIXELS } from './image-header.ts';
import type { FrameEvent } from './lb-image-frame.ts';
import { sourcesStyles } from './lb-sources.styles.ts';
import { sayTally } from './say-tally.ts';
import { startThreads, type ThreadId } from './thread-colours.ts';
import { motifIcon, wishPicture } from './wish-picture.ts';
import {
  type FoundWish,
  frameOn,
  type Pictured,
  stringsOfEach,
  wishOfImage,
  wishOfText,
  type Written,
} from './wish-source.ts';
import { threadChoice } from './thread-choice.styles.ts';

export { loadBoard } from '../../engine/document/index.ts';
export { LbImageFrame } from './lb-image-frame.ts';

/** Where a board comes from. */
export type SourceKind = 'letters' | 'image';

/** Signs that are written by a button. */
const MOTIFS = { heart: '♥', star: '★', moon: '☾', leaf: '🍃', wave: '≈', paw: '🐾' } as const;
const MOST_COLOURS = 8;
const LEAST_ROWS = 4;
const MOST_ROWS = 400;

@spoken
export class LbSources extends LitElement {
  static override styles = [controls, threadChoice, sourcesStyles];

  @state() private strings = 12;
  @state() private kind: SourceKind = 'letters';
  @state() private written: Written = { text: '', run: 'upright' };
  /** Ground and letters. */
  @state() private two: readonly [ThreadId, ThreadId] = ['oat', 'ember'];
  @state() private pictured: Pictured | null = null;
  /** Threads that an image may have. */
  @state() private threads: ReadonlySet<ThreadId> = new Set(startThreads().map(({ id }) => id));
  @state() private problem = '';
  @state() private wish: Wish | null = null;
  @query('dialog') private dialog!: HTMLDialogElement;
  readonly #solved = new BackgroundJob<StartJob>(this);

  /** Opens the dialog. */
  show(kind: SourceKind, strings: number): void {
    this.kind = kind;
    this.strings = strings;
    this.#look();
    if (!this.dialog.open) this.dialog.showModal();
  }

  protected override render(): TemplateResult {
    const tab = (kind: SourceKind): TemplateResult =>
      html`<button aria-pressed=${this.kind === kind} @click=${() => this.#onKind(kind)}>${t(`fromImage.kind.${kind}`)}</button>`;
    return html`<dialog aria-labelledby="heading" @close=${() => this.#solved.cancel()}>
      <header>
        <h2 id="heading">${t('fromImage.heading')}</h2>
        <button @click=${() => this.dialog.close()}>${t('app.close')}</button>
      </header>
      <div class="row">${tab('letters')} ${tab('image')}</div>
      <div class="columns">
        <div class="asked">
          <label>${t('start.strings')}<input id="strings" type="number" min=${MIN_STRINGS} max=${MAX_STRINGS} .value=${String(this.strings)} @change=${this.#onStrings} /></label>
          ${this.kind === 'letters' ? this.#renderLetters() : this.#renderImage()}
          <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
        </div>
        <div class="comes">${this.#renderComes()}</div>
      </div>
      <p class="quiet small">${t('fromImage.others')}</p>
    </dialog>`;
  }

  #renderLetters(): TemplateResult {
    const { text, run } = this.written;
    const runs = (['upright', 'along'] as const).map(
      (one) =>
        html`<button aria-pressed=${run === one} @click=${() => this.#write({ text, run: one })}>${t(`lettering.run.${one}`)}</button>`,
    );
    const thread = (which: 0 | 1): TemplateResult =>
      html`<label>${t(which === 0 ? 'lettering.ground' : 'lettering.colour')}<select @change=${(event: Event) => this.#onTwo(which, event)}>
        ${startThreads().map(({ id, name }) => html`<option value=${id} ?selected=${id === this.two[which]}>${name}</option>`)}
      </select></label>`;
    return html`<label>${t('lettering.text')}<input id="text" autocomplete="off" maxlength="40" .value=${text} @input=${(event: Event) => this.#write({ run, text: (event.target as HTMLInputElement).value })} /></label>
      <div class="row motifs" role="group" aria-label=${t('lettering.motifs')}>
        ${(Object.keys(MOTIFS) as (keyof typeof MOTIFS)[]).map((name) => html`<button aria-label=${t(`lettering.motif.${name}`)} title=${t(`lettering.motif.${name}`)} @click=${() => this.#write({ run, text: text + MOTIFS[name] })}>${motifIcon(MOTIFS[name])}</button>`)}
      </div>
      <div class="row" role="group" aria-label=${t('lettering.run')}>${runs}</div>
      <div class="row">${thread(0)} ${thread(1)}</div>`;
  }

  #renderImage(): TemplateResult {
    return html`<label class="button file">${t('fromImage.choose')}<input class="visually-hidden" type="file" accept="image/png,image/jpeg,image/svg+xml" @change=${this.#onFile} /></label>
      <p class="quiet small">${t('fromImage.stays')}</p>
      ${this.pictured === null ? nothing : this.#renderFrame(this.pictured)}`;
  }

  #renderFrame({ pixels, frame, colours }: Pictured): TemplateResult {
    const { strings } = frame;
    const fitted = (how: 'whole' | 'fill'): TemplateResult =>
      html`<button @click=${() => this.#frame({ frame: frameOn(pixels, { strings, rows: frame.rows }, how) })}>${t(`fromImage.${how}`)}</button>`;
    return html`<lb-image-frame .pixels=${pixels} .frame=${frame} @lb-frame=${(event: FrameEvent) => this.#frame({ frame: event.frame })}></lb-image-frame>
      <div class="row">${fitted('whole')} ${fitted('fill')}</div>
      <div class="row">
        <label>${t('start.rows')}<input id="rows" type="number" min=${LEAST_ROWS} max=${MOST_ROWS} .value=${String(frame.rows)} @change=${this.#onRows} /></label>
        <label>${t('fromImage.most')}<input id="colours" type="number" min="1" max=${MOST_COLOURS} .value=${String(colours)} @change=${this.#onColours} /></label>
      </div>
      <div role="group" aria-label=${t('fromImage.threads')} class="threads">
        ${startThreads().map(({ id, name, hex }) => html`<button class="thread" style="--thread: ${hex}" aria-pressed=${this.threads.has(id)} aria-label=${name} title=${name} @click=${() => this.#onThread(id)}></button>`)}
      </div>`;
  }

  #renderComes(): TemplateResult | typeof nothing {
    const { wish } = this;
    if (wish === null) return nothing;
    const { state: found } = this.#solved;
    const one = found.kind === 'found' ? (found.answer[0] ?? null) : null;
    return html`<div class="pictures">
        <figure><div class="wish">${wishPicture(wish)}</div><figcaption class="small">${t('fromImage.wished')}</figcaption></figure>
        ${one === null ? nothing : html`<figure><lb-start-card .board=${one.board}></lb-start-card><figcaption class="small">${t('fromImage.finished')}</figcaption></figure>`}
      </div>
      ${one === null ? nothing : this.#renderBoard(one)}
      <p role="status" class="small quiet">${found.kind === 'looking' ? t('figure.looking') : found.kind === 'found' && one === null ? t('fromImage.none') : ''}</p>
      ${found.kind === 'failed' ? html`<p class="warn" role="alert">${found.why}</p>` : nothing}`;
  }

  #renderBoard({ board, tally, wrong }: Started): TemplateResult {
    return html`<p class="small tally">${[wrong === 0 ? t('fromImage.allRight') : t('fromImage.wrong', { wrong }), ...sayTally(tally, readUnit())].join(' · ')}</p>
      <p class="small quiet" ?hidden=${wrong === 0}>${t('fromImage.more')}</p>
      <ul class="small prices">
        ${stringsOfEach(board).map(({ colour, strings }) => html`<li><span class="swatch" style="background: ${colour.hex}"></span> ${colour.name}: ${t('figure.onStrings', { strings })}</li>`)}
      </ul>
      <div class="row"><button class="primary make" @click=${() => this.dispatchEvent(new MakeBoardsEvent([board]))}>${t('figure.make')}</button></div>`;
  }

  /** Works out anew what is wished, and looks for its board. */
  #look(): void {
    const found = this.#found();
    this.problem =
      found === null || found.ok || found.error.kind === 'empty' ? '' : this.#sayFault(found.error);
    this.wish = found?.ok ? found.value : null;
    if (this.wish === null) this.#solved.cancel();
    else this.#solved.start({ kind: 'start', ask: { of: 'wish', wish: this.wish } });
  }

  #found(): FoundWish | null {
    const all = startThreads();
    if (this.kind === 'letters') {
      const [ground, letters] = this.two.map((id) => all.find((thread) => thread.id === id)!) as [
        PaletteColour,
        PaletteColour,
      ];
      return wishOfText(this.written, this.strings, [ground, letters]);
    }
    if (this.pictured === null) return null;
    const palette = all.filter(({ id }) => this.threads.has(id));
    return { ok: true, value: wishOfImage(this.pictured, palette) };
  }

  #sayFault(fault: Extract<FoundWish, { readonly ok: false }>['error']): string {
    switch (fault.kind) {
      case 'not-drawn':
        return t('lettering.notDrawn', { signs: fault.signs.join(' ') });
      case 'too-narrow':
        return t('lettering.tooNarrow', { sign: fault.sign, needs: fault.needs });
      case 'too-long':
        return t('lettering.tooLong', { rows: fault.rows, most: fault.most });
      case 'empty':
        return '';
    }
  }

  #onKind(kind: SourceKind): void {
    this.kind = kind;
    this.#look();
  }

  #write(written: Written): void {
    this.written = written;
    this.#look();
  }

  #onTwo(which: 0 | 1, event: Event): void {
    const id = (event.target as HTMLSelectElement).value as ThreadId;
    const [ground, letters] = this.two;
    const other = which === 0 ? letters : ground;
    // One colour twice shows nothing: the other takes the one that was here.
    const kept = other === id ? this.two[which] : other;
    this.two = which === 0 ? [id, kept] : [kept, id];
    this.#look();
  }

  /** A whole number of a field, or null; the field then shows what it was. */
  #wholeOf(event: Event, least: number, most: number, before: number): number | null {
    const input = event.target as HTMLInputElement;
    const value = Number(input.value);
    if (Number.isInteger(value) && value >= least && value <= most) return value;
    input.value = String(before);
    return null;
  }

  readonly #onStrings = (event: Event): void => {
    const strings = this.#wholeOf(event, MIN_STRINGS, MAX_STRINGS, this.strings);
    if (strings === null) return;
    this.strings = strings;
    if (this.pictured !== null)
      this.pictured = { ...this.pictured, frame: frameOn(this.pictured.pixels, { strings }) };
    this.#look();
  };

  readonly #onRows = (event: Event): void => {
    const { frame } = this.pictured!;
    const rows = this.#wholeOf(event, LEAST_ROWS, MOST_ROWS, frame.rows);
    if (rows !== null) this.#frame({ frame: { ...frame, rows } });
  };

  readonly #onColours = (event: Event): void => {
    const colours = this.#wholeOf(event, 1, MOST_COLOURS, this.pictured!.colours);
    if (colours !== null) this.#frame({ colours });
  };

  #onThread(id: ThreadId): void {
    const threads = new Set(this.threads);
    if (!threads.delete(id)) threads.add(id);
    if (threads.size === 0) return;
    this.threads = threads;
    this.#look();
  }

  #frame(part: Partial<Pictured>): void {
    this.pictured = { ...this.pictured!, ...part };
    this.#look();
  }

  readonly #onFile = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (file === undefined) return;
    await this.take(file);
    input.value = '';
  };

  /** Takes an image that was chosen or dropped. */
  async take(file: File): Promise<void> {
    this.kind = 'image';
    this.problem = '';
    const read = await readImage(file);
    if (read.ok) {
      const pixels = read.value;
      this.pictured = { pixels, frame: frameOn(pixels, { strings: this.strings }), colours: 3 };
      this.#look();
    } else this.problem = sayImageFault(file.name, read.error);
  }
}

function sayImageFault(name: string, fault: ImageFault): string {
  switch (fault.kind) {
    case 'no-image':
      return t('fromImage.noImage', { name });
    case 'no-size':
      return t('fromImage.noSize', { name, image: fault.image, byte: fault.byte });
    case 'too-large':
      return t('fromImage.tooLarge', {
        name,
        width: fault.width,
        height: fault.height,
        most: MOST_PIXELS / 1_000_000,
      });
    case 'not-drawn':
      return t('fromImage.notDrawn', { name, image: fault.image });
  }
}

declare global {
  interface HTMLElementTagNameMap {
    'lb-sources': LbSources;
  }
}
