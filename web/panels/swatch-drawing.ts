/** Our own drawing of what to measure on a swatch: width over the strings, height of the rows, what is left of one string. */
import { html, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import { t } from '../text/index.ts';

const STRINGS = 8;
const ROWS = 7;
/** Distance of two strings; a lozenge is two of them wide. */
const X = 15;
const Y = 13;
const LEFT = 96;
const TOP = 48;

function lozenge(row: number, k: number): SVGTemplateResult {
  const x = LEFT + (2 * k + (row & 1) + 0.5) * X;
  const y = TOP + (row + 1) * Y;
  const isDark = (row + k) % 3 === 0;
  return svg`<path d="M${x} ${y - Y}L${x + X} ${y}L${x} ${y + Y}L${x - X} ${y}Z" fill=${isDark ? 'var(--lb-line-strong)' : 'var(--lb-line)'} stroke="var(--lb-page)" />`;
}

function measure(x1: number, y1: number, x2: number, y2: number): SVGTemplateResult {
  const isAcross = y1 === y2;
  const tick = (x: number, y: number) =>
    isAcross ? svg`<path d="M${x} ${y - 5}V${y + 5}" />` : svg`<path d="M${x - 5} ${y}H${x + 5}" />`;
  return svg`<g stroke="var(--lb-accent)" stroke-width="2" fill="none"><path d="M${x1} ${y1}L${x2} ${y2}" />${tick(x1, y1)}${tick(x2, y2)}</g>`;
}

export function swatchDrawing(): TemplateResult {
  const right = LEFT + (STRINGS - 1) * X;
  const bottom = TOP + (ROWS + 1) * Y;
  const end = bottom + 46;
  const knots: SVGTemplateResult[] = [];
  for (let row = 0; row < ROWS; row++)
    for (let k = 0; k < (STRINGS - (row & 1)) >> 1; k++) knots.push(lozenge(row, k));
  const tails = Array.from({ length: STRINGS }, (_, i) => {
    const x = LEFT + i * X;
    const isMeasured = i === STRINGS - 1;
    return svg`<path d="M${x} ${bottom - Y * 0.6}V${isMeasured ? end : bottom + 26}" stroke=${isMeasured ? 'var(--lb-text)' : 'var(--lb-line-strong)'} stroke-width=${isMeasured ? 4 : 3} stroke-linecap="round" />`;
  });
  return html`<svg class="drawing" viewBox="0 0 340 226" role="img" aria-label=${t('gauge.drawing')}>
    <rect x=${LEFT - 14} y=${TOP - 12} width=${right - LEFT + 28} height="7" rx="3" fill="var(--lb-text-quiet)" />
    ${tails} ${knots}
    ${measure(LEFT - X / 2, 24, right + X / 2, 24)} ${measure(LEFT - 26, TOP, LEFT - 26, bottom)}
    ${measure(right + 26, bottom, right + 26, end)}
    <g fill="var(--lb-text)" font-size="14">
      <text x=${(LEFT + right) / 2} y="16" text-anchor="middle">${t('gauge.drawing.width')}</text>
      <text x=${LEFT - 34} y=${(TOP + bottom) / 2 + 5} text-anchor="end">${t('gauge.drawing.height')}</text>
      <text x=${right + 36} y=${(bottom + end) / 2 + 5}>${t('gauge.drawing.left')}</text>
    </g>
  </svg>`;
}
