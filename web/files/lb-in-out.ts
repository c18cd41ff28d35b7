/** What goes out of a board and into it: files, pictures, steps, paper. A dialog, opened with `show`. */
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { loadBoard } from '../../engine/document/index.ts';
import { type Board, MAX_ROWS } from '../../engine/index.ts';
import { Consumer, Subscriptions } from '../context/index.ts';
import { controls } from '../styles/index.ts';
import { type PageHandles, pageHandles } from '../talk/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayTitle } from '../words/index.ts';
import { LoadBoardEvent } from './load-board-event.ts';
import { heightAt, MAX_SIDE_PX, type Pictured, pictureOf, pngOf } from './picture-file.ts';
import { type ReadBoard, readBoardOf, readBoardText } from './read-board.ts';
import { dragBoardFile, fileName, saveBoardFile, saveFile } from './save-file.ts';
import { stepLines } from './steps-text.ts';

export { LbWholeBoard } from './lb-whole-board.ts';

const MOST_REPEATS = 100;
/** Time for a browser to fetch a file that was dragged out. */
const FETCHED_MS = 60_000;

/** @fires lb-load-board A board that was brought in. */
@spoken
export class LbInOut extends LitElement {
  static override styles = [
    controls,
    css`
      dialog {
        width: min(720px, 100vw - 2 * var(--lb-space-3));
        max-height: calc(100dvh - 2 * var(--lb-space-4));
        overflow: auto;
        padding: var(--lb-space-4);
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-page);
        color: var(--lb-text);
      }
      dialog::backdrop {
        background: rgb(0 0 0 / 45%);
      }
      header {
        display: flex;
        justify-content: space-between;
        align-items: start;
        gap: var(--lb-space-3);
      }
      section {
        display: grid;
        gap: var(--lb-space-3);
        margin-block-start: var(--lb-space-4);
      }
      ul {
        display: grid;
        grid-template-columns: repeat(auto-fill, minmax(min(100%, 290px), 1fr));
        gap: var(--lb-space-2);
        margin: 0;
        padding: 0;
        list-style: none;
      }
      li {
        display: grid;
        align-content: start;
        gap: var(--lb-space-1);
      }
      .pair {
        display: flex;
        flex-wrap: wrap;
        gap: var(--lb-space-3);
      }
      label {
        display: grid;
        gap: var(--lb-space-1);
        font-weight: 600;
      }
      input[type='number'] {
        width: 12ch;
      }
      input[type='file'] {
        width: 100%;
        padding: var(--lb-space-1);
        font-weight: 400;
      }
      textarea {
        min-height: 8em;
        padding: var(--lb-space-2);
        font: 0.875rem / 1.4 ui-monospace, monospace;
      }
    `,
  ];

  @state() private problem = '';
  /** What came of bringing one in: beside the file, or beside the text. */
  @state() private brought: { readonly from: 'file' | 'text'; readonly why: string } | null = null;
  /** That of the board, while the dialog is open. */
  @state() private boardTitle = '';
  readonly #handles = new Consumer(this, pageHandles);
  readonly #subscriptions = new Subscriptions(this);

  get #page(): PageHandles {
    const { value } = this.#handles;
    if (value === null) throw new RangeError('what goes out of a board stands beside none');
    return value;
  }

  /** The board as it is now, in its own colours. */
  get #board(): Board {
    return this.#page.session.design.snapshot.board;
  }

  show(): void {
    this.problem = '';
    this.brought = null;
    const take = (): void => {
      this.boardTitle = sayTitle(this.#board);
    };
    this.#subscriptions.keep(this.#page.session.design.subscribe(take));
    take();
    this.renderRoot.querySelector('dialog')?.showModal();
  }

  close(): void {
    this.renderRoot.querySelector('dialog')?.close();
  }

  protected override render(): TemplateResult {
    const { session, isOwner } = this.#page;
    const { boardId } = session;
    return html`<dialog aria-labelledby="heading" @close=${() => this.#subscriptions.keep()}>
      <header>
        <h2 id="heading">${t('io.heading')}</h2>
        <button @click=${() => this.close()}>${t('app.close')}</button>
      </header>
      <section aria-labelledby="save">
        <h3 id="save">${t('io.save')}</h3>
        <div class="pair">
          <label>${t('io.repeats')}<input id="repeats" type="number" min="1" max=${MOST_REPEATS} value="2" /></label>
          <label>${t('io.width')}<input id="width" type="number" min="16" max=${MAX_SIDE_PX} value="1200" /></label>
        </div>
        <p class="warn" role="alert" ?hidden=${this.problem === ''}>${this.problem}</p>
        <ul>
          ${this.#choice('file', t('io.boardFile'), t('io.boardFileHint'), () => this.#saveBoard(), this.#onDragOut)}
          ${this.#choice('svg', t('io.svg'), t('io.svgHint'), () => this.#saveSvg())}
          ${this.#choice('png', t('io.png'), t('io.pngHint'), () => void this.#savePng())}
          ${this.#choice('steps', t('io.steps'), t('io.stepsHint'), () => this.#saveSteps())}
        </ul>
      </section>
      <section aria-labelledby="print">
        <h3 id="print">${t('io.print')}</h3>
        <ul>
          <li><a class="button" href="/board/${boardId}/print">${t('io.sheet')}</a><span class="quiet small">${t('io.sheetHint')}</span></li>
          <li><a class="button" href="/board/${boardId}/card">${t('io.card')}</a><span class="quiet small">${t('io.cardHint')}</span></li>
        </ul>
      </section>
      ${session.keepsEdits ? this.#renderLoad() : ''}
      ${isOwner ? html`<section><lb-whole-board .boardId=${boardId} .boardTitle=${this.boardTitle} .people=${session.people}></lb-whole-board></section>` : ''}
    </dialog>`;
  }

  #choice(
    id: string,
    name: string,
    hint: string,
    save: () => void,
    dragOut?: (event: DragEvent) => void,
  ): TemplateResult {
    return html`<li draggable=${dragOut === undefined ? 'false' : 'true'} @dragstart=${dragOut ?? nothing}>
      <button id=${id} aria-describedby="${id}-hint" @click=${save}>${name}</button>
      <span class="quiet small" id="${id}-hint">${hint}</span>
    </li>`;
  }

  #renderLoad(): TemplateResult {
    return html`<section aria-labelledby="load">
      <h3 id="load">${t('io.load')}</h3>
      <p class="quiet small">${t('io.loadHint')}</p>
      <label>${t('io.open')}<input type="file" accept=".json,application/json" @change=${this.#onFile} /></label>
      ${this.#renderBrought('file')}
      <label>${t('io.paste')}<textarea spellcheck="false" aria-describedby="paste-hint"></textarea></label>
      <p class="quiet small" id="paste-hint">${t('io.pasteHint')}</p>
      <div><button id="use-text" @click=${this.#onPaste}>${t('io.usePasted')}</button></div>
      ${this.#renderBrought('text')}
    </section>`;
  }

  #renderBrought(from: 'file' | 'text'): TemplateResult {
    const brought = this.brought?.from === from ? this.brought : null;
    const why = brought?.why ?? '';
    const done = brought?.why === '' ? t(from === 'file' ? 'io.fileDone' : 'io.done') : '';
    return html`<p class="warn" role="alert" ?hidden=${why === ''}>${why}</p>
      <p class="good" role="status" ?hidden=${done === ''}>${done}</p>`;
  }

  #saveBoard(): void {
    this.problem = '';
    saveBoardFile(this.#board);
  }

  readonly #onDragOut = (event: DragEvent): void => {
    if (event.dataTransfer === null) return;
    const free = dragBoardFile(this.#board, event.dataTransfer);
    // The browser fetches the file after the drop.
    event.target?.addEventListener('dragend', () => setTimeout(free, FETCHED_MS), { once: true });
  };

  #saveSvg(): void {
    const of = this.#pictured();
    if (of !== null) this.#save('svg', new Blob([this.#picture(of)], { type: 'image/svg+xml' }));
  }

  async #savePng(): Promise<void> {
    const of = this.#pictured();
    const width = this.#number('width', t('io.width'), 16, MAX_SIDE_PX);
    if (of === null || width === null) return;
    const height = heightAt(this.#board, of, width);
    if (height > MAX_SIDE_PX) this.problem = t('io.tooTall', { height, most: MAX_SIDE_PX });
    else this.#save('png', await pngOf(this.#picture(of), width, height));
  }

  #saveSteps(): void {
    const text = `${stepLines(this.#board).join('\n')}\n`;
    this.#save('txt', new Blob([text], { type: 'text/plain;charset=utf-8' }));
  }

  #picture(of: Pictured): string {
    return pictureOf(this.#board, t('io.pictureTitle', { title: this.#title() }), of);
  }

  /** What is drawn: an empty field means the piece. */
  #pictured(): Pictured | null {
    const field = this.renderRoot.querySelector<HTMLInputElement>('#repeats');
    if (field !== null && field.value === '' && !field.validity.badInput) return 'piece';
    return this.#number('repeats', t('io.repeats'), 1, MOST_REPEATS);
  }

  #title(): string {
    return sayTitle(this.#board);
  }

  #save(ending: string, content: Blob): void {
    this.problem = '';
    saveFile(fileName(this.#board.title, ending), content);
  }

  /** The whole number in a field, or null with the problem told. */
  #number(id: string, name: string, least: number, most: number): number | null {
    const value = this.renderRoot.querySelector<HTMLInputElement>(`#${id}`)?.valueAsNumber ?? Number.NaN;
    if (Number.isInteger(value) && value >= least && value <= Math.min(most, MAX_ROWS)) return value;
    this.problem = t('io.badWhole', { name, least, most });
    return null;
  }

  #take(from: 'file' | 'text', read: ReadBoard): void {
    this.brought = { from, why: read.ok ? '' : t('start.badFile', { why: read.why }) };
    if (read.ok) this.dispatchEvent(new LoadBoardEvent(loadBoard(read.value)));
  }

  readonly #onFile = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement;
    const file = input.files?.[0];
    if (file === undefined) return;
    const read = await readBoardOf(file);
    input.value = '';
    this.#take('file', read);
  };

  readonly #onPaste = (): void => {
    this.#take('text', readBoardText(this.renderRoot.querySelector('textarea')?.value ?? '', this.#board));
  };
}
