/** Icons of the board's tools, 24 x 24: lozenges and strings, as the board itself is drawn. All are our own drawings. */
import { html, nothing, svg, type TemplateResult } from 'lit';
import { HITCH_STROKES, type KnotCode } from '../../engine/index.ts';

/** A lozenge around a point, `half` wide and high to each side. */
const z = (x: number, y: number, half: number): string =>
  `M${x} ${y - half}l${half} ${half}-${half} ${half}-${half}-${half}z`;

const LENS = 'M4 10.5a6.5 6.5 0 1 0 13 0a6.5 6.5 0 1 0-13 0M15.3 15.3 21 21';

/** What is stroked, and what is filled. */
const PATHS = {
  // One knot with its strokes, two strings through it.
  tie: [
    `${z(12, 12, 7)}M9.2 10.4l2.8 3.6M12 9.8l2.8 3.6M5.5 2.5l2.7 5.3M18.5 2.5l-2.7 5.3M8.2 16.2l-2.7 5.3M15.8 16.2l2.7 5.3`,
  ],
  // Three on a slope.
  line: [z(5.6, 5.6, 3.9) + z(12, 12, 3.9) + z(18.4, 18.4, 3.9)],
  // A cluster.
  fill: ['', z(12, 5.6, 4.6) + z(6, 12, 4.6) + z(18, 12, 4.6) + z(12, 18.4, 4.6)],
  // Some between brackets.
  select: [`M5.5 3.5H2.5v17h3M18.5 3.5h3v17h-3${z(8.6, 9.4, 3)}${z(15.4, 9.4, 3)}${z(12, 14.8, 3)}`],
  // A string from its peg to its end.
  trace: ['M7 6C7 10 17.5 9 17.5 13S8.5 17 8.5 21.5', z(7, 4, 3)],
  // The same again.
  pick: [`M10.6 10.3h2.8M10.6 13.7h2.8${z(18.3, 12, 4.3)}`, z(5.7, 12, 4.9)],
  // A knot that goes all ways.
  pan: [
    `${z(12, 12, 3.4)}M9.3 4.9 12 2.2l2.7 2.7M9.3 19.1l2.7 2.7 2.7-2.7M4.9 9.3 2.2 12l2.7 2.7M19.1 9.3l2.7 2.7-2.7 2.7`,
  ],
  // Two that lean against each other beside a string.
  mirror: [`M12 2v4M12 10v4M12 18v4${z(5.4, 12, 4.4)}${z(18.6, 12, 4.4)}M4.4 10.4l2 3.2M19.6 10.4l-2 3.2`],
  zoomIn: [`${LENS}M10.5 7.7v5.6M7.7 10.5h5.6`],
  zoomOut: [`${LENS}M7.7 10.5h5.6`],
  // All between top and foot.
  fit: [`M3 3h18M3 21h18${z(12, 12, 5.8)}`],
  // A knot as high as it will be.
  trueShape: ['M12 2l7 10-7 10-7-10z'],
  search: [LENS],
  keyboard: ['M4 4h16v16H4zM9.2 8v8M15 8l-5.6 4.4L15 16'],
  // The colour that a knot shows.
  show: [z(12, 12, 9.4), z(12, 12, 5.2)],
  swap: [
    `${z(18.6, 12, 3.4)}M6 6c3-4.4 9-4.4 12 0M18.4 2.2V6h-3.8M18 18c-3 4.4-9 4.4-12 0M5.6 21.8V18h3.8`,
    z(5.4, 12, 4.2),
  ],
  // Two bands.
  beside: ['M4 3h6v18H4zM14 3h6v18h-6z'],
  close: ['M5.5 5.5l13 13M18.5 5.5l-13 13'],
} as const satisfies Readonly<Record<string, readonly [stroked: string, filled?: string]>>;

export type IconName = keyof typeof PATHS;

/** An icon, hidden from screen readers: the button that holds it has the name. */
export function icon(name: IconName): TemplateResult {
  const [stroked, filled]: readonly [string, string?] = PATHS[name];
  return html`<svg viewBox="0 0 24 24" width="20" height="20" fill="none" stroke="currentColor" stroke-width="1.8" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true"><path d=${stroked} />${filled === undefined ? nothing : svg`<path d=${filled} fill="currentColor" stroke="none" />`}</svg>`;
}

/** A knot in our notation; two hanging strings for an untied pair. */
export function knotIcon(knot: KnotCode): TemplateResult {
  const strokes = (HITCH_STROKES[knot] ?? [])
    .map(([x0, y0, x1, y1]) => `M${12 + 11 * x0} ${12 + 9 * y0}L${12 + 11 * x1} ${12 + 9 * y1}`)
    .join('');
  const lozenge = 'M12 2.6 23 12 12 21.4 1 12z';
  return html`<svg viewBox="0 0 24 24" width="26" height="26" fill="none" stroke="currentColor" stroke-linecap="round" stroke-linejoin="round" aria-hidden="true">
    <path d=${lozenge} fill=${knot === 0 ? 'none' : 'currentColor'} fill-opacity="0.13" stroke-width="1.2" stroke-opacity=${knot === 0 ? 0.7 : 0.35} stroke-dasharray=${knot === 0 ? '2.5 2.5' : 'none'} />
    ${knot === 0 ? svg`<path d="M8.5 4v16M15.5 4v16" stroke-width="2.2" />` : svg`<path d=${strokes} stroke-width="2.2" />`}
  </svg>`;
}
