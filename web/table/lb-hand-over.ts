/** "Go on on my phone": a code for its camera, or how to start a server that it can reach. */
import { css, html, LitElement, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { controls } from '../styles/index.ts';
import { ApiError } from '../sync/index.ts';
import { spoken, t } from '../text/index.ts';
import { sayServerError } from '../words/index.ts';
import { codeDrawing } from './code-drawing.ts';
import { addressOfCode, giveCode, type HandOverCode, reachableOrigins } from './hand-over.ts';
import { packKeychain } from './keychain-parcel.ts';
import { KeychainShelf } from './keychain-shelf.ts';

/** As RUNNING.md has it. */
const COMMAND = 'HOST=0.0.0.0 npm start';

type State =
  | { readonly kind: 'asking' | 'no-links' | 'too-large' | 'unreachable' }
  | { readonly kind: 'failed'; readonly why: string }
  | { readonly kind: 'given'; readonly code: HandOverCode; readonly origins: readonly string[] };

@spoken
export class LbHandOver extends LitElement {
  static override styles = [
    controls,
    css`
      dialog {
        width: min(94vw, 26rem);
        max-height: 96dvh;
        overflow: auto;
        border: 1px solid var(--lb-line-strong);
        border-radius: var(--lb-radius);
        background: var(--lb-surface);
        color: var(--lb-text);
      }
      .inside {
        display: grid;
        gap: var(--lb-space-3);
      }
      .code {
        width: min(100%, 62dvh);
        justify-self: center;
        border-radius: var(--lb-radius-small);
        forced-color-adjust: none;
      }
      .address {
        overflow-wrap: anywhere;
      }
      pre {
        margin: 0;
        padding: var(--lb-space-2);
        overflow: auto;
        border: 1px solid var(--lb-line);
        border-radius: var(--lb-radius-small);
        font: 0.875rem / 1.4 ui-monospace, monospace;
        user-select: all;
      }
      ol {
        display: grid;
        gap: var(--lb-space-2);
        margin: 0;
        padding-inline-start: 1.4em;
      }
    `,
  ];

  @property({ attribute: false }) boardId = '';
  @property({ attribute: false }) keychainId = '';
  @state() private state: State = { kind: 'asking' };
  /** Which of several origins the code is for. */
  @state() private origin = '';

  async show(): Promise<void> {
    await this.updateComplete;
    this.renderRoot.querySelector('dialog')?.showModal();
    await this.#ask();
  }

  protected override render(): TemplateResult {
    return html`<dialog aria-labelledby="heading">
      <div class="inside">
        <h2 id="heading">${t('handOver.heading')}</h2>
        ${this.#renderState()}
        <form method="dialog"><button>${t('handOver.close')}</button></form>
      </div>
    </dialog>`;
  }

  async #ask(): Promise<void> {
    this.state = { kind: 'asking' };
    this.state = await this.#give();
    if (this.state.kind === 'given') this.origin = this.state.origins[0] ?? '';
  }

  async #give(): Promise<State> {
    try {
      const origins = await reachableOrigins(this.boardId, location);
      if (origins.length === 0) return { kind: 'unreachable' };
      const carried = await packKeychain(new KeychainShelf(this.boardId, localStorage), this.keychainId);
      if (carried === null) return { kind: 'too-large' };
      return { kind: 'given', code: await giveCode(this.boardId, carried), origins };
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      return error.kind === 'not-found'
        ? { kind: 'no-links' }
        : { kind: 'failed', why: sayServerError(error) };
    }
  }

  #renderState(): TemplateResult {
    const { state } = this;
    switch (state.kind) {
      case 'asking':
        return html`<p role="status">${t('handOver.asking')}</p>`;
      case 'no-links':
        return html`<p class="warn" role="alert">${t('handOver.noLinks')}</p>`;
      case 'too-large':
        return html`<p class="warn" role="alert">${t('handOver.tooLarge')}</p>`;
      case 'failed':
        return html`<p class="warn" role="alert">${t('handOver.failed', { why: state.why })}</p>
          <button @click=${() => this.#ask()}>${t('handOver.again')}</button>`;
      case 'unreachable':
        return this.#renderHowTo();
      case 'given':
        return this.#renderCode(state);
    }
  }

  #renderCode({ code, origins }: Extract<State, { kind: 'given' }>): TemplateResult {
    const until = new Date(code.endsAt).toLocaleTimeString(document.documentElement.lang, {
      hour: '2-digit',
      minute: '2-digit',
    });
    return html`<p role="status">${t('handOver.scan', { until })}</p>
      ${codeDrawing(addressOfCode(this.origin, this.boardId, code.code), t('handOver.code', { origin: this.origin }))}
      ${
        origins.length < 2
          ? ''
          : html`<label>${t('handOver.which')}<select @change=${(event: Event) => {
              this.origin = (event.target as HTMLSelectElement).value;
            }}>${origins.map((one) => html`<option value=${one} ?selected=${one === this.origin}>${one}</option>`)}</select></label>`
      }
      <p class="small quiet">${t('handOver.right')}</p>
      ${this.origin.startsWith('https:') ? '' : html`<p class="small">${t('handOver.plain')}</p>`}
      <button @click=${() => this.#ask()}>${t('handOver.another')}</button>`;
  }

  /** Rule N82. */
  #renderHowTo(): TemplateResult {
    return html`<p>${t('handOver.loopback')}</p>
      <ol>
        <li>${t('handOver.start')}<pre>${COMMAND}</pre></li>
        <li>${t('handOver.firewall', { port: location.port || '80' })}</li>
        <li>${t('handOver.certificate')}</li>
      </ol>
      <p class="small quiet">${t('handOver.recipe')}</p>`;
  }
}
