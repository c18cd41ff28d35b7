/** Icons of the panels, 24 x 24, stroked. All are our own drawings. */
import { type SVGTemplateResult, svg } from 'lit';

/** By the id of the panel; each is the inside of an `svg` element. */
export const PANEL_ICONS = {
  // Two nested folds over the bar.
  mounting: svg`<path d="M2 15h20M4 20v-5a8 8 0 0 1 16 0v5M9 20v-5a3 3 0 0 1 6 0v5"/>`,
  colours: svg`<circle cx="12" cy="8" r="5"/><circle cx="8" cy="15" r="5"/><circle cx="16" cy="15" r="5"/>`,
  symmetry: svg`<path d="M12 3v3M12 10.5v3M12 18v3M9 7l-6 5 6 5zM15 7l6 5-6 5z"/>`,
  // A band on its ring.
  piece: svg`<circle cx="12" cy="5" r="3"/><path d="M8.5 8h7v9h-7zM9 17v4M12 17v4.5M15 17v4"/>`,
  gauge: svg`<rect x="2" y="8" width="20" height="9" rx="1"/><path d="M6 8v3M10 8v5M14 8v3M18 8v5"/>`,
  cutting: svg`<circle cx="6.5" cy="18.5" r="2.8"/><circle cx="17.5" cy="18.5" r="2.8"/><path d="M8 16.1 16.5 2.5M16 16.1 7.5 2.5"/>`,
  // A label with its hole.
  cost: svg`<path d="M12.5 3H21v8.5L11 21.5 2.5 13z"/><circle cx="16.5" cy="7.5" r="1.5"/>`,
  work: svg`<path d="m3 6 1.5 1.5L7.5 4.5M11 6h10M11 12h10M11 18h10"/><circle cx="5" cy="12" r="1.5"/><circle cx="5" cy="18" r="1.5"/>`,
  talk: svg`<path d="M5 4h14a1 1 0 0 1 1 1v10a1 1 0 0 1-1 1h-8l-5 4v-4H5a1 1 0 0 1-1-1V5a1 1 0 0 1 1-1z"/>`,
  // A knot, and beside it how it might be.
  proposals: svg`<path d="M8.5 4.5 15 11l-6.5 6.5L2 11z"/><path d="M15.5 6.5 22 13l-6.5 6.5L9 13z" stroke-dasharray="2.4 2.9"/>`,
  versions: svg`<path d="M3.5 9A9 9 0 1 1 3 12M3 4v5h5M12 7v5l3.5 2"/>`,
  notes: svg`<path d="M5 3h14v18H5zM8.5 8h7M8.5 12h7M8.5 16h4"/>`,
} as const satisfies Readonly<Record<string, SVGTemplateResult>>;
