/** Drawings of the help page: how strings run and how it is drawn. Our own, from the same geometry as the board. */
import { html, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import { HITCH_STROKES, inkOn, type KnotCode } from '../../engine/index.ts';
import { HITCH_SIZE, hitchMoves } from '../icons/index.ts';
import { t } from '../text/index.ts';

type KnotKind = Parameters<typeof hitchMoves>[0]['kind'];

/** Two colours that can be told apart in every sight and on light and dark ground, each with an edge. */
const FIRST = '#d9a514';
const SECOND = '#3f6fb5';
const THIRD = '#a8502f';

function cord(d: string, hex: string, width = 9): SVGTemplateResult {
  return svg`<path d=${d} class="edge" stroke-width=${width + 3} /><path d=${d} stroke=${hex} stroke-width=${width} />`;
}

function drawing(label: string, width: number, height: number, content: unknown): TemplateResult {
  return html`<svg viewBox="0 0 ${width} ${height}" width=${width} height=${height} role="img" aria-label=${label} fill="none" stroke-linecap="round" stroke-linejoin="round">${content}</svg>`;
}

/** One knot: its two half hitches on the left, its lozenge on the right. */
export function knotDrawing(kind: KnotKind, code: KnotCode, name: string): TemplateResult {
  const upper = kind === 'f' || kind === 'fb' ? FIRST : SECOND;
  const lower = upper === FIRST ? SECOND : FIRST;
  const { width, height } = HITCH_SIZE;
  const [x, y, half] = [width + 56, height / 2, 44];
  const strokes = HITCH_STROKES[code]!.map(
    ([x0, y0, x1, y1]) => `M${x + x0 * half} ${y + y0 * half}L${x + x1 * half} ${y + y1 * half}`,
  ).join('');
  return drawing(
    t('help.knot.drawing', { knot: name }),
    width + 108,
    height,
    svg`${hitchMoves({ kind, knotting: upper, carrier: lower })}
      <path d="M${x} ${y - half}l${half} ${half}l${-half} ${half}l${-half} ${-half}z" fill=${upper} class="line" /><path d=${strokes} stroke=${inkOn(upper)} stroke-width="5" />`,
  );
}

function bar(width: number, y: number): SVGTemplateResult {
  return svg`<path d="M6 ${y}H${width - 6}" class="bar" stroke-width="9" />`;
}

/** A folded string on the bar, both ends drawn through its loop and spread, two other ends between them. */
export function headDrawing(): TemplateResult {
  const other = (x: number): SVGTemplateResult => cord(`M${x} 34V118`, SECOND, 8);
  return drawing(
    t('help.headDrawing'),
    200,
    130,
    svg`${cord('M58 34Q58 16 100 16Q142 16 142 34', FIRST)}${bar(200, 34)}
      ${other(88)}${other(112)}
      ${cord('M58 34V118', FIRST)}${cord('M142 34V118', FIRST)}
      ${cord('M50 46H150', FIRST, 7)}`,
  );
}

function arc(from: number, to: number, base: number, hex: string): SVGTemplateResult {
  const rise = 14 + (to - from) * 0.36;
  return cord(
    `M${from} ${base + 36}V${base}A${(to - from) / 2} ${rise} 0 0 1 ${to} ${base}V${base + 36}`,
    hex,
    7,
  );
}

export function nestedDrawing(): TemplateResult {
  return drawing(
    t('help.nestedDrawing'),
    220,
    130,
    svg`${arc(24, 120, 76, FIRST)}${arc(54, 90, 76, SECOND)}${arc(152, 192, 76, THIRD)}${bar(220, 76)}`,
  );
}

export function crossingDrawing(): TemplateResult {
  return drawing(
    t('help.crossingDrawing'),
    220,
    130,
    svg`${arc(30, 130, 76, FIRST)}${arc(84, 188, 76, SECOND)}${bar(220, 76)}
      <path d="M96 24l20 20m0 -20l-20 20" class="halo" stroke-width="12" /><path d="M96 24l20 20m0 -20l-20 20" class="fault" stroke-width="5" />`,
  );
}

/** Rows of lozenges, one knot fewer on either side in each row. */
export function triangleDrawing(): TemplateResult {
  const knots: SVGTemplateResult[] = [];
  for (let row = 0; row < 5; row++)
    for (let k = 0; k < 5 - row; k++)
      knots.push(
        svg`<path d="M${30 + row * 18 + k * 36} ${8 + row * 20}l18 20l-18 20l-18 -20z" fill=${row % 2 === 0 ? FIRST : SECOND} class="line" />`,
      );
  return drawing(t('help.triangleDrawing'), 204, 132, knots);
}
