/** A board without knots as a small picture: its bar, its pegs, and the strings that hang from them. */

/** Heights in px. */
const BAR = 5;
const PEG = 14;

/**
 * @param hexes colours of the strings, left to right
 * @param unit px from one string to the next
 */
export function drawHanging(
  context: CanvasRenderingContext2D,
  hexes: readonly string[],
  width: number,
  height: number,
  unit: number,
  bar: string,
): void {
  const left = (width - (hexes.length - 1) * unit) / 2;
  const peg = Math.max(2, unit * 0.7);
  const string = Math.max(1, unit * 0.32);
  context.fillStyle = bar;
  context.fillRect(left - unit, PEG / 2, (hexes.length + 1) * unit, BAR);
  for (const [place, hex] of hexes.entries()) {
    const x = left + place * unit;
    context.fillStyle = hex;
    context.fillRect(x - string / 2, PEG, string, Math.max(0, height - PEG));
    context.beginPath();
    context.roundRect(x - peg / 2, 2, peg, PEG + 2, peg / 2);
    context.fill();
  }
}
