/**
 * Looking at a board in a colourway of its set: the same design, read with other colours. Nothing of it is ever written: what is dressed
 * has other colours than the palette, so its commands would mean something else.
 */
import { html, type TemplateResult } from 'lit';
import {
  BareDesign,
  type CommandResult,
  type DesignListener,
  type DesignSnapshot,
} from '../../engine/document/index.ts';
import { type Colourway, dressBoard } from '../../engine/index.ts';
import { chosen, options } from '../fields/index.ts';
import type { BoardSession } from '../sync/index.ts';
import { t } from '../text/index.ts';

/** A design as it looks in a colourway; where that is gone, as it is. It is read from the same document, and refuses every command. */
class DressedDesign extends BareDesign {
  readonly #colourway: string;
  #made: { readonly of: DesignSnapshot; readonly shown: DesignSnapshot } | null = null;

  constructor(design: BareDesign, colourway: string) {
    super(design.doc, { makerId: 'looking', newId: () => 'none' });
    this.#colourway = colourway;
  }

  /** Null where it was removed. */
  get colourway(): Colourway | null {
    return super.snapshot.board.colourways.find(({ id }) => id === this.#colourway) ?? null;
  }

  override get snapshot(): DesignSnapshot {
    const of = super.snapshot;
    if (this.#made?.of !== of) {
      const { colourway } = this;
      const shown = colourway === null ? of : { ...of, board: dressBoard(of.board, colourway) };
      this.#made = { of, shown };
    }
    return this.#made.shown;
  }

  override subscribe(listener: DesignListener): () => void {
    return super.subscribe((_, change) => listener(this.snapshot, change));
  }

  override run(): CommandResult {
    return {
      ok: false,
      error: { kind: 'unknown-command', path: '', message: 'a dressed board is only looked at' },
    };
  }
}

export class ColourwayLook {
  readonly design: DressedDesign;
  readonly #session: BoardSession;
  readonly #onChoose: (colourway: string | null) => unknown;
  readonly #stop: () => void;

  /** @param onChoose another colourway is wanted; null = the board's own colours */
  constructor(session: BoardSession, colourway: string, onChoose: (colourway: string | null) => unknown) {
    this.design = new DressedDesign(session.design, colourway);
    this.#session = session;
    this.#onChoose = onChoose;
    // Whoever would remove it is asked first.
    session.setPresence({ open: { kind: 'colourway', id: colourway } });
    this.#stop = session.subscribe(() => {
      const { doc } = session.design;
      if (this.design.doc !== doc) this.design.moveTo(doc);
    });
  }

  /** Why nothing can be changed now. */
  get why(): string {
    return t('look.why');
  }

  /** What is looked at, the others, and the way back. */
  render(): TemplateResult {
    const { colourway } = this.design;
    return html`<p class="notice" role="status">
      <span>${colourway === null ? t('look.gone') : t('look.now', { name: nameOf(colourway) })}</span>
      <label>${t('look.in')} ${lookChoice(this.#session.design.snapshot.board.colourways, colourway?.id ?? null, this.#onChoose)}</label>
      <button class="primary" @click=${() => this.#onChoose(null)}>${t('look.back')}</button>
    </p>`;
  }

  dispose(): void {
    this.#session.setPresence({ open: null });
    this.#stop();
    this.design.dispose();
  }
}

/** The board's own colours and every colourway, to choose from. */
function lookChoice(
  colourways: readonly Colourway[],
  colourway: string | null,
  onChoose: (colourway: string | null) => unknown,
): TemplateResult {
  return html`<select
    .value=${chosen(colourway ?? '')}
    @change=${(event: Event) => onChoose((event.target as HTMLSelectElement).value || null)}
  >
    <option value="">${t('look.own')}</option>
    ${options(colourways.map((one) => html`<option value=${one.id}>${nameOf(one)}</option>`))}
  </select>`;
}

function nameOf({ name, id }: Colourway): string {
  return name || id;
}

/** A reload, or whoever is given the address, looks at the same. */
export function tellAddress(colourway: string | null): void {
  const address = new URL(location.href);
  if (colourway === null) address.searchParams.delete('colourway');
  else address.searchParams.set('colourway', colourway);
  history.replaceState(history.state, '', address);
}
