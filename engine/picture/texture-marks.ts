/** Textures for colours that are hard to tell apart, as marks inside a lozenge; none leans, so that none is taken for a half hitch. */
import type { Stroke } from './hitches.ts';

/** Lines and dots in units of half a lozenge around its middle, all inside it. */
export interface TextureMarks {
  readonly lines: readonly Stroke[];
  readonly dots: readonly (readonly [x: number, y: number])[];
  /** Width of the lines as a part of half a lozenge; dots are as wide again by half. */
  readonly width: number;
}

const FINE = 0.07;
const BOLD = 0.16;
const LEVELS = [-0.62, -0.31, 0, 0.31, 0.62];
const WIDE_LEVELS = [-0.5, 0.5];

function across(levels: readonly number[]): readonly Stroke[] {
  return levels.map((y) => [Math.abs(y) - 1, y, 1 - Math.abs(y), y]);
}

function down(levels: readonly number[]): readonly Stroke[] {
  return levels.map((x) => [x, Math.abs(x) - 1, x, 1 - Math.abs(x)]);
}

const DOTS = LEVELS.flatMap((y) => LEVELS.map((x) => [x, y] as const)).filter(
  ([x, y]) => Math.abs(x) + Math.abs(y) < 0.95,
);

/** Marks by number of the texture, 0 for a plain colour: lines across, dots, lines down, both, two bold lines across, two down. */
export const TEXTURE_MARKS: readonly TextureMarks[] = [
  { lines: [], dots: [], width: FINE },
  { lines: across(LEVELS), dots: [], width: FINE },
  { lines: [], dots: DOTS, width: FINE },
  { lines: down(LEVELS), dots: [], width: FINE },
  { lines: [...across(LEVELS), ...down(LEVELS)], dots: [], width: FINE },
  { lines: across(WIDE_LEVELS), dots: [], width: BOLD },
  { lines: down(WIDE_LEVELS), dots: [], width: BOLD },
];
