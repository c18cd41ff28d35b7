/** The mounting as an arc diagram: an arc over the bar for each folded string, numbered in mounting order, crossings marked. */
import { html, nothing, type SVGTemplateResult, svg, type TemplateResult } from 'lit';
import type { Fold, MountPlan } from '../../engine/index.ts';

export interface DiagramOptions {
  readonly label: string;
  /** Colour of the string at each place, as `#rrggbb`. */
  readonly hexes: readonly string[];
  /** Strings put on so far: those after it are only hinted at. Default all. */
  readonly shown?: number;
  /** Told which fold is pointed at, by its index; null when none any more. */
  readonly onPoint?: (fold: number | null) => void;
}

/** Width of a place. The drawing scales; under many places the numbers stay readable because the height grows with the spans. */
const PLACE = 20;
const BELOW = 26;
const PAD = 14;
/** Steep enough that the numbers of nested arcs stand clear of each other. */
const FLATNESS = 0.95;

interface Arc {
  readonly fold: Fold;
  readonly x1: number;
  readonly x2: number;
  readonly rise: number;
}

function arcOf(fold: Fold): Arc {
  const x1 = PAD + (fold.left + 0.5) * PLACE;
  const x2 = PAD + (fold.right + 0.5) * PLACE;
  return { fold, x1, x2, rise: 12 + ((x2 - x1) / 2) * FLATNESS };
}

/** Height of an arc above the bar at `x`. */
function heightAt({ x1, x2, rise }: Arc, x: number): number {
  const radius = (x2 - x1) / 2;
  return rise * Math.sqrt(Math.max(0, 1 - ((x - (x1 + x2) / 2) / radius) ** 2));
}

/** Where two arcs meet: halving between the inner ends, where the difference of their heights changes its sign. */
function meeting(a: Arc, b: Arc): { readonly x: number; readonly height: number } {
  const [first, second] = a.x1 < b.x1 ? [a, b] : [b, a];
  let low = second.x1;
  let high = first.x2;
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2;
    if (heightAt(first, middle) > heightAt(second, middle)) low = middle;
    else high = middle;
  }
  return { x: low, height: heightAt(first, low) };
}

/** Of two folds that cross, the left one has its number to the left (-1), the right one to the right (1). */
function sidesOf({ folds, crossings }: MountPlan): ReadonlyMap<number, -1 | 1> {
  const sides = new Map<number, -1 | 1>();
  for (const [a, b] of crossings) {
    const isFirst = folds[a]!.left < folds[b]!.left;
    if (!sides.has(a)) sides.set(a, isFirst ? -1 : 1);
    if (!sides.has(b)) sides.set(b, isFirst ? 1 : -1);
  }
  return sides;
}

/** O(folds + crossings). */
export function mountDiagram(plan: MountPlan, options: DiagramOptions): TemplateResult {
  const { hexes, label, shown = plan.folds.length, onPoint } = options;
  const arcs = plan.folds.map(arcOf);
  const top = Math.max(30, ...arcs.map(({ rise }) => rise)) + 16;
  const width = 2 * PAD + hexes.length * PLACE;
  const sides = sidesOf(plan);
  const colourOf = ({ fold }: Arc): string => hexes[fold.left] ?? 'currentColor';
  const inOrder = [...arcs.keys()].sort((a, b) => arcs[a]!.fold.turn - arcs[b]!.fold.turn);
  const end = (place: number, hex: string, isOn: boolean): SVGTemplateResult => {
    const x = PAD + (place + 0.5) * PLACE;
    return svg`<path d="M${x} ${top}v${BELOW}" stroke=${isOn ? hex : 'var(--lb-line)'} stroke-width="5" class=${isOn ? 'cord' : ''} />`;
  };
  const arc = (index: number): SVGTemplateResult => {
    const one = arcs[index]!;
    const { x1, x2, rise, fold } = one;
    const isOn = fold.turn <= shown;
    const path = `M${x1} ${top}A${(x2 - x1) / 2} ${rise} 0 0 1 ${x2} ${top}`;
    if (!isOn)
      return svg`<path d=${path} stroke="var(--lb-line-strong)" stroke-width="1.5" stroke-dasharray="2 5" />`;
    // Numbers of arcs that cross stand to the side of the crossing, each on its own arc.
    const side = sides.get(index) ?? 0;
    const middle = (x1 + x2) / 2 + side * 0.22 * (x2 - x1);
    const height = heightAt(one, middle);
    const plate = fold.turn < 10 ? 15 : 22;
    return svg`<g class="arc ${fold.turn === shown ? 'last' : ''}" @pointerenter=${() => onPoint?.(index)} @pointerleave=${() => onPoint?.(null)}>
      <path d=${path} stroke="var(--lb-line-strong)" stroke-width="7" />
      <path class="cord" d=${path} stroke=${colourOf(one)} stroke-width="5" pathLength="1" />
      <rect x=${middle - plate / 2} y=${top - height - 14} width=${plate} height="15" rx="4" fill="var(--lb-surface)" stroke="var(--lb-line-strong)" />
      <text x=${middle} y=${top - height - 2} text-anchor="middle" fill="var(--lb-text)" stroke="none" font-size="12" font-weight="700">${fold.turn}</text>
    </g>`;
  };
  const cross = ([a, b]: readonly [number, number]): SVGTemplateResult | typeof nothing => {
    const [one, other] = [arcs[a]!, arcs[b]!];
    if (Math.max(one.fold.turn, other.fold.turn) > shown) return nothing;
    const { x, height } = meeting(one, other);
    const y = top - height;
    return svg`<g class="fault"><path d="M${x - 6} ${y - 6}l12 12m0 -12l-12 12" stroke="var(--lb-surface)" stroke-width="6" /><path d="M${x - 6} ${y - 6}l12 12m0 -12l-12 12" stroke="var(--lb-warn)" stroke-width="3" /></g>`;
  };
  return html`<svg class="mounting" viewBox="0 0 ${width} ${top + BELOW + 4}" role="img" aria-label=${label} fill="none" stroke-linecap="round">
    ${arcs.flatMap((one) => [
      end(one.fold.left, colourOf(one), one.fold.turn <= shown),
      end(one.fold.right, colourOf(one), one.fold.turn <= shown),
    ])}
    ${plan.singles.map((place) => end(place, hexes[place] ?? 'currentColor', shown >= plan.folds.length))}
    <path d="M${PAD - 6} ${top}h${width - 2 * PAD + 12}" stroke="var(--lb-text-quiet)" stroke-width="6" />
    ${inOrder.map(arc)} ${plan.crossings.map(cross)}
  </svg>`;
}
