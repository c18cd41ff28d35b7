/** Takes a file dropped anywhere on the page, for as long as the element is there. */
import { html, type ReactiveController, type ReactiveControllerHost, type TemplateResult } from 'lit';
import { t } from '../text/index.ts';

export interface FileDropOptions {
  /** Whether a file would be taken now. */
  isWanted(): boolean;
  onFile(file: File): void;
  /** Something other than one file was dropped. */
  onProblem(sentence: string): void;
}

export class FileDrop implements ReactiveController {
  readonly #host: ReactiveControllerHost;
  readonly #options: FileDropOptions;
  #isOver = false;

  constructor(host: ReactiveControllerHost, options: FileDropOptions) {
    this.#host = host;
    this.#options = options;
    host.addController(this);
  }

  hostConnected(): void {
    addEventListener('dragover', this.#onOver);
    addEventListener('dragleave', this.#onLeave);
    addEventListener('drop', this.#onDrop);
  }

  hostDisconnected(): void {
    removeEventListener('dragover', this.#onOver);
    removeEventListener('dragleave', this.#onLeave);
    removeEventListener('drop', this.#onDrop);
  }

  /** What shows where to drop while a file hangs over the page. */
  render(): TemplateResult | '' {
    return this.#isOver ? html`<p class="drop" role="status">${t('drop.here')}</p>` : '';
  }

  #setOver(isOver: boolean): void {
    if (this.#isOver === isOver) return;
    this.#isOver = isOver;
    this.#host.requestUpdate();
  }

  readonly #onOver = (event: DragEvent): void => {
    if (!event.dataTransfer?.types.includes('Files')) return;
    // Else the browser would leave the page and show the file.
    event.preventDefault();
    this.#setOver(this.#options.isWanted());
  };

  readonly #onLeave = (event: DragEvent): void => {
    if (event.relatedTarget === null) this.#setOver(false);
  };

  readonly #onDrop = (event: DragEvent): void => {
    const files = event.dataTransfer?.files;
    if (files === undefined || files.length === 0) return;
    event.preventDefault();
    this.#setOver(false);
    if (!this.#options.isWanted()) return;
    if (files.length === 1) this.#options.onFile(files[0]!);
    else this.#options.onProblem(t('drop.notOne'));
  };
}
