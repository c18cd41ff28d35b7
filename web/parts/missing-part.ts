/** What is said of a part that could not be fetched, and what can be done: the same sentence and button wherever it was to be. */
import { html, type TemplateResult } from 'lit';
import { t } from '../text/index.ts';
import type { MissingKind } from './try-fetch.ts';

/** @param again tries once more; not offered where a newer release is out, since only the page loaded anew has its parts */
export function missingPart(kind: MissingKind, again: () => unknown): TemplateResult {
  return kind === 'replaced'
    ? html`<p class="warn" role="alert">${t('app.replaced')}</p><div><button class="primary" @click=${() => location.reload()}>${t('app.reload')}</button></div>`
    : html`<p class="warn" role="alert">${t('app.notFetched')}</p><div><button @click=${again}>${t('app.again')}</button></div>`;
}

/** What somebody asked for in vain, and how to try again. */
export interface Missing {
  readonly kind: MissingKind;
  readonly again: () => unknown;
}

let told: Missing | null = null;
const listeners = new Set<() => void>();

/** Null = there is nothing to be told, or no longer. */
export function toldMissing(): Missing | null {
  return told;
}

/** @returns stops it */
export function onTold(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function tell(missing: Missing | null): void {
  told = missing;
  for (const listener of [...listeners]) listener();
}

/** Has the page say at its foot that something is missing, until it is asked for again or let be. */
export function tellMissing(kind: MissingKind, again: () => unknown): void {
  tell({ kind, again });
}

/** Says it no more. */
export function letMissing(): void {
  tell(null);
}
