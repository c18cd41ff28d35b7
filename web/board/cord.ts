/** Shaded cord: the strokes of which the finished look is made. */
import { hexToRgb, rgbToHex } from '../../engine/index.ts';

/** The colour mixed with white (amount above 0) or black (below 0). */
export function shade(hex: string, amount: number): string {
  const to = amount > 0 ? 1 : 0;
  const [r, g, b] = hexToRgb(hex);
  const mix = (channel: number): number => channel + (to - channel) * Math.abs(amount);
  return rgbToHex([mix(r), mix(g), mix(b)]);
}

/** Draws a path as a round cord: dark at the edges, light along its back. */
export function strokeCord(
  context: CanvasRenderingContext2D,
  path: Path2D,
  hex: string,
  width: number,
): void {
  context.lineCap = 'round';
  context.lineJoin = 'round';
  const layers: readonly (readonly [number, number])[] = [
    [1, -0.45],
    [0.84, -0.16],
    [0.6, 0],
    [0.3, 0.17],
  ];
  for (const [share, amount] of width < 3 ? layers.slice(1, 3) : layers) {
    context.strokeStyle = amount === 0 ? hex : shade(hex, amount);
    context.lineWidth = width * share;
    context.stroke(path);
  }
}

/** A straight cord between two points. */
export function cordLine(
  context: CanvasRenderingContext2D,
  from: readonly [number, number],
  to: readonly [number, number],
  hex: string,
  width: number,
): void {
  const path = new Path2D();
  path.moveTo(...from);
  path.lineTo(...to);
  strokeCord(context, path, hex, width);
}
