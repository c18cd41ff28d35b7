/** The hand's move for a knot, drawn: its two half hitches beside each other, numbered. */
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import type { Curve } from '../../engine/index.ts';
import { halfHitch, hitchWays } from './half-hitch.ts';

/** How it is seen. */
export interface HitchScene {
  readonly kind: Parameters<typeof hitchWays>[0];
  /** Colours as `#rrggbb`. */
  readonly knotting: string;
  readonly carrier: string;
  /** Whether it is seen by who sits opposite. */
  readonly isTurned?: boolean;
  /** Whether the second half hitch is below the first and not beside it. */
  readonly isTall?: boolean;
}

/** Width and height in its own units; of a tall one the other way round. */
export const HITCH_SIZE = { width: 248, height: 124 };
/** From one half hitch to the next. */
const APART = 124;
const EDGE = 12;

function pathOf(curve: Curve): string {
  let d = `M${curve[0]} ${curve[1]}`;
  for (let at = 2; at + 5 < curve.length; at += 6) d += `C${curve.slice(at, at + 6).join(' ')}`;
  return d;
}

/** The drawing, to be put into an `svg`: {@link HITCH_SIZE}. Rule N70. */
export function hitchMoves(scene: HitchScene): SVGTemplateResult {
  const { kind, knotting, carrier, isTurned = false, isTall = false } = scene;
  const { width, height } = sizeOf(isTall);
  const hitches = hitchWays(kind).map((way, turn) => {
    const parts = halfHitch(way, turn === 1);
    const end = parts.at(-1)!.curve;
    const [x, y] = [end.at(-2)!, end.at(-1)!];
    // Turned by half, the first is still read first.
    const along = EDGE + (isTurned ? 1 - turn : turn) * APART;
    const [left, top] = isTall ? [EDGE, along] : [along, EDGE];
    const number = { x: way === 'right' ? 92 : 8, y: 14 };
    return svg`<g class="hitch" transform="translate(${left} ${top})">
      ${parts.map(
        // Edges end flat, so that none is drawn across the string where two stretches meet.
        ({
          of,
          curve,
          cap,
        }) => svg`<path d=${pathOf(curve)} stroke="var(--lb-text)" stroke-width="12" stroke-linecap="butt" />
          <path class="cord" d=${pathOf(curve)} stroke=${of === 'knotting' ? knotting : carrier} stroke-width="9" stroke-linecap=${cap} />`,
      )}
      <path d="M${x - 10} ${y + 8}L${x} ${y - 6}L${x + 10} ${y + 8}" stroke="var(--lb-text)" stroke-width="4" />
      <text x=${number.x} y=${number.y} font-size="22" font-weight="700" text-anchor="middle" dominant-baseline="central" fill="var(--lb-text)" transform=${isTurned ? `rotate(180 ${number.x} ${number.y})` : nothing}>${turn + 1}</text>
    </g>`;
  });
  return svg`<g transform=${isTurned ? `rotate(180 ${width / 2} ${height / 2})` : nothing}>${hitches}</g>`;
}

function sizeOf(isTall: boolean): { readonly width: number; readonly height: number } {
  return isTall ? { width: HITCH_SIZE.height, height: HITCH_SIZE.width } : HITCH_SIZE;
}

/** It stands alone. @param label what a screen reader says */
export function hitchDrawing(label: string, scene: HitchScene): TemplateResult {
  const { width, height } = sizeOf(scene.isTall === true);
  return html`<svg class="hitches" viewBox="0 0 ${width} ${height}" role="img" aria-label=${label} fill="none" stroke-linecap="round" stroke-linejoin="round">${hitchMoves(scene)}</svg>`;
}
