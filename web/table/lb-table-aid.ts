/** Help while tying: where one is, what to do about a mistake, whether strings last, and how long it takes. Fetched when it is asked for. */
import { html, LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import type { Board } from '../../engine/index.ts';
import { controls } from '../styles/index.ts';
import { spoken, t } from '../text/index.ts';
import type { Aided, AidHost } from './aid-host.ts';
import { renderPace } from './aid-pace.ts';
import { AidShort } from './aid-short.ts';
import { AidWhere } from './aid-where.ts';
import { AidWrong } from './aid-wrong.ts';
import { KeychainEvent } from './keychain-event.ts';
import type { Keychain } from './keychain-shelf.ts';
import { aidStyles } from './lb-table-aid.styles.ts';
import { stageStyles } from './stage.ts';
import type { TableWork } from './table-work.ts';

export { LbTableMeasure } from './lb-table-measure.ts';

const AIDS = ['where', 'wrong', 'short', 'pace'] as const;

/** The help is done with. */
class CloseEvent extends Event {
  constructor() {
    super('lb-close', { bubbles: true, composed: true });
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-close': CloseEvent;
  }
}

/**
 * @fires lb-keychain What is taken over into the keychain.
 * @fires lb-close When the help is closed.
 */
@spoken
export class LbTableAid extends LitElement {
  static override styles = [controls, stageStyles, aidStyles];

  @property({ attribute: false }) keychain!: Keychain;
  @property({ attribute: false }) begun!: Board;
  @property({ attribute: false }) work!: TableWork;
  @state() private aid: (typeof AIDS)[number] = 'where';

  readonly #host: AidHost = {
    update: () => this.requestUpdate(),
    take: (patch) => {
      this.dispatchEvent(new KeychainEvent(typeof patch === 'function' ? patch(this.keychain) : patch));
      this.#close();
    },
  };
  readonly #where = new AidWhere(this.#host);
  readonly #wrong = new AidWrong(this, this.#host);
  readonly #short = new AidShort(this.#host);

  protected override render(): TemplateResult {
    return html`<main class="grows">${this.#renderAid()}</main>
      <nav aria-label=${t('table.aid')}>${AIDS.map(
        (aid) =>
          html`<button aria-current=${aid === this.aid ? 'page' : 'false'} @click=${() => {
            this.aid = aid;
          }}>${t(`aid.${aid}`)}</button>`,
      )}<button class="primary" @click=${() => this.#close()}>${t('aid.close')}</button></nav>`;
  }

  #renderAid(): TemplateResult {
    const { keychain, begun, work } = this;
    const aided: Aided = { keychain, begun, work };
    switch (this.aid) {
      case 'where':
        return this.#where.render(aided);
      case 'wrong':
        return this.#wrong.render(aided);
      case 'short':
        return this.#short.render(aided);
      case 'pace':
        return renderPace(aided);
    }
  }

  #close(): void {
    this.dispatchEvent(new CloseEvent());
  }
}
