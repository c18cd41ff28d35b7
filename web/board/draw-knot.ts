/** One knot in our notation: a lozenge of the colour that shows, with a stroke for each half hitch as it lies on the band. */
import { contrastRatio } from '../../engine/index.ts';

/** Ends of the two strokes of each knot code, in units of half a lozenge: x0, y0, x1, y1 twice. */
const STROKES: readonly (readonly number[])[] = [
  [],
  [-0.42, -0.2, 0.08, 0.38, -0.08, -0.38, 0.42, 0.2],
  [0.42, -0.2, -0.08, 0.38, 0.08, -0.38, -0.42, 0.2],
  [-0.26, -0.46, 0.24, -0.03, 0.24, 0.03, -0.26, 0.46],
  [0.26, -0.46, -0.24, -0.03, -0.24, 0.03, 0.26, 0.46],
];

const inks = new Map<string, string>();

/** Dark or light, whichever stands out more on the colour (WCAG contrast). */
export function inkOn(hex: string): string {
  let ink = inks.get(hex);
  if (ink === undefined) {
    ink = contrastRatio(hex, '#1d1814') >= contrastRatio(hex, '#fffaf2') ? '#1d1814' : '#fffaf2';
    inks.set(hex, ink);
  }
  return ink;
}

/** Draws the lozenge around pixel (x, y), `half` px wide to each side, `tall` px high to each side. */
export function drawLozenge(
  context: CanvasRenderingContext2D,
  x: number,
  y: number,
  half: number,
  tall: number,
  hex: string,
): void {
  context.fillStyle = hex;
  context.beginPath();
  context.moveTo(x, y - tall);
  context.lineTo(x + half, y);
  context.lineTo(x, y + tall);
  context.lineTo(x - half, y);
  context.closePath();
  context.fill();
}

/** Draws the two half hitches of a knot code 1 to 4. */
export function drawHitches(
  context: CanvasRenderingContext2D,
  x: number,
  y: number,
  half: number,
  tall: number,
  knot: number,
  hex: string,
): void {
  const strokes = STROKES[knot]!;
  context.strokeStyle = inkOn(hex);
  context.lineWidth = Math.max(1, half * 0.11);
  context.lineCap = 'round';
  context.beginPath();
  for (let i = 0; i < strokes.length; i += 4) {
    context.moveTo(x + strokes[i]! * half, y + strokes[i + 1]! * tall);
    context.lineTo(x + strokes[i + 2]! * half, y + strokes[i + 3]! * tall);
  }
  context.stroke();
}
