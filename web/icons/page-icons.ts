/**
 * Icons of the page's own buttons, 24 x 24, stroked. Paths from Lucide 1.62 (https://lucide.dev), ISC licence, Copyright (c) 2026
 * Lucide Icons and Contributors. The tools of the board have theirs in board-icons.ts.
 */
import { html, type SVGTemplateResult, svg, type TemplateResult } from 'lit';

const PATHS = {
  back: svg`<path d="m12 19-7-7 7-7"/><path d="M19 12H5"/>`,
  undo: svg`<path d="M9 14 4 9l5-5"/><path d="M4 9h10.5a5.5 5.5 0 0 1 5.5 5.5a5.5 5.5 0 0 1-5.5 5.5H11"/>`,
  redo: svg`<path d="m15 14 5-5-5-5"/><path d="M20 9H9.5A5.5 5.5 0 0 0 4 14.5A5.5 5.5 0 0 0 9.5 20H13"/>`,
  share: svg`<circle cx="18" cy="5" r="3"/><circle cx="6" cy="12" r="3"/><circle cx="18" cy="19" r="3"/><path d="m8.59 13.51 6.83 3.98m-.01-10.98-6.82 3.98"/>`,
  paper: svg`<path d="M6 18H4a2 2 0 0 1-2-2v-5a2 2 0 0 1 2-2h16a2 2 0 0 1 2 2v5a2 2 0 0 1-2 2h-2"/><path d="M6 9V3a1 1 0 0 1 1-1h10a1 1 0 0 1 1 1v6"/><rect x="6" y="14" width="12" height="8" rx="1"/>`,
  more: svg`<circle cx="12" cy="5" r="1"/><circle cx="12" cy="12" r="1"/><circle cx="12" cy="19" r="1"/>`,
  help: svg`<circle cx="12" cy="12" r="10"/><path d="M9.09 9a3 3 0 0 1 5.83 1c0 2-3 3-3 3"/><path d="M12 17h.01"/>`,
  // Our own: keychains beside each other on a rail.
  set: svg`<path d="M2 4h20"/><path d="M6 4v3M12 4v3M18 4v3"/><rect x="4.3" y="7" width="3.4" height="11" rx="1"/><rect x="10.3" y="7" width="3.4" height="14" rx="1"/><rect x="16.3" y="7" width="3.4" height="11" rx="1"/>`,
} as const satisfies Readonly<Record<string, SVGTemplateResult>>;

/** Not spoken: the button that it stands on has a name. Icons that point somewhere turn round where one writes from right to left. */
export function pageIcon(name: keyof typeof PATHS): TemplateResult {
  const turns = name === 'back' || name === 'undo' || name === 'redo';
  return html`<svg class=${turns ? 'icon turns' : 'icon'} viewBox="0 0 24 24" width="20" height="20" fill="none" stroke="currentcolor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true">${PATHS[name]}</svg>`;
}
