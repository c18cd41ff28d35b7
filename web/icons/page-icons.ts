/** Icons of the page's own buttons, 24 x 24, stroked. All are our own drawings. The tools of the board have theirs in board-icons.ts. */
import { html, type SVGTemplateResult, svg, type TemplateResult } from 'lit';

const PATHS = {
  back: svg`<path d="M20 12H4.5M11 5.5 4.5 12l6.5 6.5"/>`,
  undo: svg`<path d="M8 3.5 3.5 8 8 12.5M4 8h10.5a6 6 0 0 1 0 12H8"/>`,
  redo: svg`<path d="M16 3.5 20.5 8 16 12.5M20 8H9.5a6 6 0 0 0 0 12H16"/>`,
  // Two rings in each other.
  share: svg`<circle cx="8.4" cy="12" r="5.9"/><circle cx="15.6" cy="12" r="5.9"/>`,
  // A sheet with a knot on it.
  paper: svg`<path d="M5.5 2.5h9L19 7v14.5H5.5zM14.5 2.5V7H19M12.2 10.6l3.7 3.7-3.7 3.7-3.7-3.7z"/>`,
  more: svg`<path d="M12 3.6 13.4 5 12 6.4 10.6 5zM12 10.6l1.4 1.4-1.4 1.4-1.4-1.4zM12 17.6l1.4 1.4-1.4 1.4-1.4-1.4z"/>`,
  help: svg`<circle cx="12" cy="12" r="9.5"/><path d="M9 9.4a3 3 0 1 1 4.4 2.7c-.9.5-1.4 1-1.4 2M12 17v.01"/>`,
  // Keychains beside each other on a rail.
  set: svg`<path d="M2 4h20"/><path d="M6 4v3M12 4v3M18 4v3"/><rect x="4.3" y="7" width="3.4" height="11" rx="1"/><rect x="10.3" y="7" width="3.4" height="14" rx="1"/><rect x="16.3" y="7" width="3.4" height="11" rx="1"/>`,
  // A knot between the strings that hang below it.
  table: svg`<path d="M12 3l5 5-5 5-5-5zM9 11v10M15 11v10"/>`,
} as const satisfies Readonly<Record<string, SVGTemplateResult>>;

/** Not spoken: the button that it stands on has a name. Icons that point somewhere turn round where one writes from right to left. */
export function pageIcon(name: keyof typeof PATHS): TemplateResult {
  const turns = name === 'back' || name === 'undo' || name === 'redo';
  return html`<svg class=${turns ? 'icon turns' : 'icon'} viewBox="0 0 24 24" width="20" height="20" fill="none" stroke="currentcolor" stroke-width="2" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true">${PATHS[name]}</svg>`;
}
