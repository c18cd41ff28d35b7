/** Textures on the canvas: in lozenges, on pegs, along strings. What they are is in engine/picture. */
import { inkOn, TEXTURE_MARKS } from '../../engine/index.ts';

const STRENGTH = 0.55;

/**
 * Draws texture `number` around (0, 0), `half` wide and `tall` high to each side; the shape that holds it is clipped to.
 * @throws RangeError when there is no such texture
 */
export function drawTexture(
  context: CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D,
  number: number,
  hex: string,
  half: number,
  tall: number,
): void {
  const marks = TEXTURE_MARKS[number];
  if (marks === undefined) throw new RangeError(`there is no texture ${number}`);
  const wide = Math.max(0.75, half * marks.width);
  context.globalAlpha = STRENGTH;
  context.strokeStyle = inkOn(hex);
  context.fillStyle = inkOn(hex);
  context.lineWidth = wide;
  context.beginPath();
  for (const [x0, y0, x1, y1] of marks.lines) {
    context.moveTo(x0 * half, y0 * tall);
    context.lineTo(x1 * half, y1 * tall);
  }
  context.stroke();
  context.beginPath();
  for (const [x, y] of marks.dots) {
    context.moveTo(x * half + wide, y * tall);
    context.arc(x * half, y * tall, wide * 0.75, 0, 2 * Math.PI);
  }
  context.fill();
  context.globalAlpha = 1;
}

/** How a texture runs along a string, by its number: dashes in string widths (none: a line), and how wide they are. */
const ALONG: readonly (readonly [dash: readonly [number, number] | null, wide: number])[] = [
  [null, 0],
  [[0.12, 0.4], 0.8],
  [[0.001, 0.5], 0.3],
  [null, 0.14],
  [[0.3, 0.3], 0.34],
  [[0.3, 0.9], 0.8],
  [null, 0.4],
];

/** Draws texture `number` along a string that lies on `path`, `wide` px wide: ticks across, dots, or lines with it. */
export function textureAlong(
  context: CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D,
  path: Path2D,
  number: number,
  hex: string,
  wide: number,
): void {
  const [dash, share] = ALONG[number] ?? [null, 0];
  if (share === 0 || wide < 3) return;
  context.save();
  context.globalAlpha = STRENGTH;
  context.strokeStyle = inkOn(hex);
  // A dash of no length is a dot where its ends are round.
  context.lineCap = number === 2 ? 'round' : 'butt';
  context.lineWidth = wide * share;
  if (dash !== null) context.setLineDash(dash.map((length) => length * wide));
  context.stroke(path);
  context.restore();
}
