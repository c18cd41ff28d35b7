import { html, type TemplateResult } from 'lit';

/** A remark to be made: a bubble with a plus. Our own. Not spoken: the button that it stands on has a name. */
export function sayIcon(): TemplateResult {
  return html`<svg viewBox="0 0 24 24" width="17" height="17" fill="none" stroke="currentcolor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true"><path d="M4 5h16v11h-9l-5 4v-4H4z" /><path d="M12 8v5M9.5 10.5h5" /></svg>`;
}
