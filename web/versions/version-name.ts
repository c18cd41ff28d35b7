/**
 * The name of a version while it is being given: kept here until it is saved as a whole, since a name of half a word would count as one.
 * What others called it meanwhile is merged in.
 */
import {
  mergeTexts,
  type TextListener,
  type TextRefusal,
  type TextSource,
  wellFormed,
} from '../../engine/document/index.ts';

export class VersionName implements TextSource {
  readonly id: string;
  readonly name: string;
  readonly most: number;
  readonly isMultiline = false;
  readonly mayBeEmpty = true;
  /** As the server has it; null = the version is gone. */
  #kept: string | null;
  /** As it is to be. */
  #wanted: string;
  readonly #listeners = new Set<TextListener>();

  constructor(id: string, kept: string, most: number) {
    this.id = id;
    this.name = `version ${id}`;
    this.most = most;
    this.#kept = kept;
    this.#wanted = kept;
  }

  get text(): string | null {
    return this.#kept === null ? null : this.#wanted;
  }

  /** What it is to be, also of a version that is gone. */
  get wanted(): string {
    return this.#wanted;
  }

  fit(text: string): string {
    return wellFormed(text)
      .replace(/[\r\n]+/g, ' ')
      .trim();
  }

  write(text: string): TextRefusal | null {
    if (this.#kept === null) return { kind: 'gone' };
    this.#wanted = text;
    return null;
  }

  /** The server has this name now; null = no such version. */
  tell(now: string | null): void {
    const before = this.#kept;
    if (now === before) return;
    this.#kept = now;
    if (now !== null) this.#wanted = mergeTexts(before ?? now, this.#wanted, now).text;
    for (const listener of [...this.#listeners]) listener(this.text, this.#wanted, false);
  }

  listen(listener: TextListener): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  openStep(): () => void {
    return () => {};
  }
}
