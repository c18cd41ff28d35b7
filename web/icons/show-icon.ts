import { html, type TemplateResult } from 'lit';

/** Where something is on the board: a ring in a cross. Our own. Not spoken: the button that it stands on has a name. */
export function showIcon(): TemplateResult {
  return html`<svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true"><circle cx="8" cy="8" r="3.2"></circle><path d="M8 0.5v4M8 11.5v4M0.5 8h4M11.5 8h4"></path></svg>`;
}
