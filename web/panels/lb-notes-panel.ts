/**
 * What the makers want to remember about the board, as free text.
 *
 * What is typed is saved at a pause and when the field is left. What others write meanwhile is merged into what is being typed.
 */
import { css, html, type TemplateResult } from 'lit';
import { state } from 'lit/decorators.js';
import { PIECE_FIELDS } from '../../engine/index.ts';
import { controls, panelStyles } from '../styles/index.ts';
import { t } from '../text/index.ts';
import { mergeTexts } from './merge-texts.ts';
import { Panel } from './panel.ts';

const PAUSE_MS = 700;
const RULE = PIECE_FIELDS.notes;
const MOST = RULE.type === 'text' ? RULE.max : 0;

export class LbNotesPanel extends Panel {
  static override styles = [
    controls,
    panelStyles,
    css`
      textarea {
        min-height: 16rem;
        padding: var(--lb-space-3);
        resize: vertical;
      }
    `,
  ];

  /** What is typed and not saved yet; null = nothing. */
  @state() private draft: string | null = null;
  /** The notes that the draft began from. */
  #base = '';
  #pause: ReturnType<typeof setTimeout> | undefined;

  override disconnectedCallback(): void {
    this.#save();
    super.disconnectedCallback();
  }

  protected override onBoard(): void {
    if (this.draft === null || this.#now === this.#base) return;
    this.draft = mergeTexts(this.#base, this.draft, this.#now).slice(0, MOST);
    this.#base = this.#now;
  }

  protected override render(): TemplateResult {
    const text = this.draft ?? this.#now;
    return html`
      <h2>${t('panels.notes')}</h2>
      <p class="quiet" id="purpose">${t('notes.purpose')}</p>
      <textarea
        aria-label=${t('panels.notes')}
        aria-describedby="purpose"
        dir="auto"
        maxlength=${MOST}
        placeholder=${t('notes.placeholder')}
        .value=${text}
        ?disabled=${!this.canEdit}
        @input=${this.#onInput}
        @change=${() => this.#save()}
      ></textarea>
      <p class="small quiet">${t('notes.room', { left: MOST - text.length })}</p>
    `;
  }

  get #now(): string {
    return this.board.piece.notes ?? '';
  }

  readonly #onInput = (event: Event): void => {
    if (this.draft === null) this.#base = this.#now;
    this.draft = (event.target as HTMLTextAreaElement).value;
    clearTimeout(this.#pause);
    this.#pause = setTimeout(() => this.#save(), PAUSE_MS);
  };

  #save(): void {
    clearTimeout(this.#pause);
    const { draft } = this;
    this.draft = null;
    if (draft === null || draft === this.#now) return;
    this.run({ kind: 'set-piece', patch: { notes: draft === '' ? null : draft } });
  }
}
