/** A board on paper: the working sheet, and the card to give with the finished keychain; with `?colourway=` in these colours. */
import { html, LitElement, type PropertyValues, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { type Board, dressBoard, parseBoard, isHung, piecesIn } from '../../engine/index.ts';
import { languageChoice } from '../fields/index.ts';
import { controls } from '../styles/index.ts';
import { ApiError, fetchBoardFile } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayError, sayServerError, sayTitle } from '../words/index.ts';
import { firstHalfOf, PlanReader, planIn, showMountedFrom } from '../worker/index.ts';
import { cardOf } from './card.ts';
import { paperStyles } from './paper.styles.ts';
import { SHEET_PARTS, type SheetPart, sheetOf } from './sheet.ts';

type PaperKind = 'print' | 'card';

/** Sizes as CSS names them; the margins leave what both have in common. */
const PAPERS = { A4: 'A4', letter: 'letter' } as const;
type Paper = keyof typeof PAPERS;
const PAPER_KEY = 'larkboard.paper';

/** Paper of the country: Letter where it is usual, else A4 (ISO 216). Common practice, no source. */
function usualPaper(): Paper {
  const kept = localStorage.getItem(PAPER_KEY);
  if (kept === 'A4' || kept === 'letter') return kept;
  return /-(US|CA|MX|PH|CL|CO|VE)$/i.test(navigator.language) ? 'letter' : 'A4';
}

/** Id of the colourway that the address names; null = the board's own colours. */
function wantedColourway(): string | null {
  return new URLSearchParams(location.search).get('colourway');
}

@spoken
export class LbPaperPage extends LitElement {
  static override styles = [controls, paperStyles];

  readonly #plans = new PlanReader(this);
  @property({ attribute: false }) boardId = '';
  @property({ attribute: false }) kind: PaperKind = 'print';
  @state() private board: Board | null = null;
  @state() private message = '';
  @state() private paper: Paper = usualPaper();
  @state() private parts: ReadonlySet<SheetPart> = new Set(SHEET_PARTS);
  readonly #page = document.createElement('style');

  override connectedCallback(): void {
    super.connectedCallback();
    document.head.append(this.#page);
  }

  override disconnectedCallback(): void {
    this.#page.remove();
    super.disconnectedCallback();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('boardId')) {
      showMountedFrom(firstHalfOf(this.boardId));
      void this.#load();
    }
    // Only a style of the document itself can name the paper.
    this.#page.textContent = `@page { size: ${this.paper}; margin: 14mm 15mm } @media print { html, body { height: auto; background: #fff } }`;
  }

  protected override render(): TemplateResult {
    const { board, kind } = this;
    const state = board === null ? null : this.#plans.stateOf(board);
    document.title = `${t(kind === 'card' ? 'card.heading' : 'sheet.heading')} · ${board === null ? '' : sayTitle(board)}`;
    return html`
      <nav class="bar" aria-label=${t('sheet.paper')}>
        ${
          wantedColourway() === null
            ? html`<a class="button" href="/board/${this.boardId}">${t('sheet.back')}</a>`
            : html`<a class="button" href="/board/${this.boardId}/set${location.search}">${t('sheet.backToSet')}</a>`
        }
        ${this.#renderChoices()}
        <button class="primary" ?disabled=${board === null || state?.kind === 'looking'} @click=${() => print()}>${t('sheet.print')}</button>
        ${languageChoice()}
      </nav>
      ${
        board === null
          ? html`<main class="message"><p role="status">${this.message || t('board.loading')}</p></main>`
          : html`<main>${kind === 'card' ? cardOf(board, state && planIn(state)) : sheetOf(board, this.parts, state!)}</main>`
      }
    `;
  }

  #renderChoices(): TemplateResult {
    return html`
      <label>${t('sheet.paper')}
        <select id="paper" @change=${this.#onPaper}>
          <option value="A4" .selected=${this.paper === 'A4'}>${t('sheet.a4')}</option>
          <option value="letter" .selected=${this.paper === 'letter'}>${t('sheet.letter')}</option>
        </select>
      </label>
      ${
        this.kind === 'card'
          ? ''
          : html`<fieldset><legend class="small">${t('sheet.parts')}</legend>
              ${SHEET_PARTS.map(
                (part) =>
                  html`<label><input type="checkbox" .checked=${this.parts.has(part)} @change=${() => this.#toggle(part)} />${t(part === 'mounting' && this.board !== null && !isHung(this.board.piece) ? 'panels.beginning' : `sheet.part.${part}`)}</label>`,
              )}
            </fieldset>`
      }
    `;
  }

  #toggle(part: SheetPart): void {
    const parts = new Set(this.parts);
    if (!parts.delete(part)) parts.add(part);
    this.parts = parts;
  }

  readonly #onPaper = (event: Event): void => {
    this.paper = (event.target as HTMLSelectElement).value as Paper;
    localStorage.setItem(PAPER_KEY, this.paper);
  };

  /** The board, or it as one keychain in the colourway that the address names. */
  #take(board: Board): void {
    const wanted = wantedColourway();
    if (wanted === null) {
      this.board = board;
      return;
    }
    const colourway = board.colourways.find(({ id }) => id === wanted);
    if (colourway === undefined) this.message = t('sheet.noColourway');
    else {
      const title = [board.title, colourway.name].filter((part) => part !== '').join(' · ');
      const { piece } = board;
      const pieces = piecesIn(board, colourway);
      this.board = { ...dressBoard(board, colourway), piece: { ...piece, pieces }, title };
    }
  }

  async #load(): Promise<void> {
    this.board = null;
    this.message = '';
    try {
      const parsed = parseBoard(await fetchBoardFile(this.boardId));
      if (parsed.ok) this.#take(parsed.value);
      else this.message = t('start.badFile', { why: sayError(parsed.error) });
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      this.message =
        error.kind === 'unknown-board'
          ? t('closed.unknownBoard')
          : t('paper.failed', { why: sayServerError(error) });
    }
  }
}
