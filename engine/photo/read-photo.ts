/** What a photo of a finished band shows, knot by knot. */
import { type Lab, labToHex, linearToLab } from '../colour/index.ts';
import type { Pixels } from '../image/index.ts';
import { knotsInRow, type PaletteColour, rowParity, sizeFault } from '../pattern/index.ts';
import { OPEN, type Wish } from '../wish/index.ts';
import { apart, clusterColours, medianLab, nearestIndex } from './cluster-colours.ts';
import { findRepeat } from './find-repeat.ts';
import { type PhotoGrid, photoMap } from './photo-grid.ts';

/** What was read. */
interface ReadPhoto {
  /** Colours as they look on the photo; knots that are not sure are open. */
  readonly wish: Wish;
  /** What is most likely in each knot, the unsure ones too; open beside the photo. */
  readonly likely: readonly (readonly number[])[];
  /** Knots of which it is not sure. */
  readonly unsure: readonly (readonly [row: number, k: number])[];
  /** Rows after which the picture comes again; null where it does not. */
  readonly repeat: number | null;
}

/** The inner part of a lozenge that is looked at, and points along each of its edges. */
const INNER = 0.5;
const POINTS = 7;
/** A knot is not sure where its own colour is not nearer than so much of the way to the next one, or fewer of its points have it. */
const SURE_WAY = 0.38;
const SURE_POINTS = 0.55;

/**
 * Reads a photo under a grid.
 * @param colours number of threads in the band, 1 to 12
 * @throws RangeError for a grid that spans no band, for a band that no pattern has and for pixels that are not as many as they should be
 * Same photo, same answer. O(knots x colours). Rules J86 to J90.
 */
export function readPhoto(pixels: Pixels, grid: PhotoGrid, colours: number): ReadPhoto {
  const { strings, start, rows } = grid;
  const fault = sizeFault(strings, rows);
  if (fault !== null) throw new RangeError(`${fault.field}: ${fault.message}`);
  if (pixels.rgba.length !== 4 * pixels.width * pixels.height)
    throw new RangeError(`${pixels.rgba.length} bytes are no image of ${pixels.width} by ${pixels.height}`);
  if (!(Number.isInteger(colours) && colours >= 1 && colours <= 12))
    throw new RangeError(`${colours} colours are not 1 to 12`);
  const map = photoMap(grid);
  const seen = Array.from({ length: rows }, (_, row) => {
    const parity = rowParity(start, row);
    return Array.from({ length: knotsInRow(strings, parity) }, (_knot, k) =>
      pointsOf(pixels, map, 2 * k + parity, row),
    );
  });
  const medians = seen.map((row) => row.map((points) => (points.length === 0 ? null : medianLab(points))));
  const middles = clusterColours(
    medians.flat().filter((lab) => lab !== null),
    colours,
  );
  const likely = medians.map((row) => row.map((lab) => (lab === null ? OPEN : nearestIndex(middles, lab))));
  const isSure = seen.map((row, r) =>
    row.map((points, k) => {
      const lab = medians[r]![k] ?? null;
      return lab !== null && isClear(lab, points, middles, likely[r]![k]!);
    }),
  );
  const known = likely.map((row, r) => row.map((index, k) => (isSure[r]![k] ? index : OPEN)));
  const repeat = findRepeat(known);
  if (repeat !== null) doubtOutliers(known, likely, repeat);
  const palette: readonly PaletteColour[] = middles.map((lab, i) => ({
    id: `read-${i}`,
    name: '',
    hex: labToHex(lab),
  }));
  return {
    wish: { strings, start, palette, rows: known },
    likely,
    unsure: known.flatMap((row, r) => row.flatMap((index, k) => (index === OPEN ? [[r, k] as const] : []))),
    repeat,
  };
}

type Points = readonly Lab[];

/** The colours of the inner part of a knot; none where it lies beside the photo. */
function pointsOf(
  { width, height, rgba }: Pixels,
  map: ReturnType<typeof photoMap>,
  place: number,
  row: number,
): Points {
  const found: Lab[] = [];
  for (let i = 0; i < POINTS; i++)
    for (let j = 0; j < POINTS; j++) {
      const [u, v] = [i, j].map((at) => 0.5 + INNER * ((at + 0.5) / POINTS - 0.5)) as [number, number];
      const point = map(place + 0.5 + u - v, row + u + v);
      const [x, y] = [Math.floor(point.x), Math.floor(point.y)];
      if (x < 0 || y < 0 || x >= width || y >= height) return [];
      const at = 4 * (y * width + x);
      found.push(
        linearToLab([0, 1, 2].map((channel) => lightOf(rgba[at + channel]!)) as [number, number, number]),
      );
    }
  return found;
}

/** Linear light of a byte; IEC 61966-2-1. */
function lightOf(byte: number): number {
  const v = byte / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
}

function isClear(lab: Lab, points: Points, middles: readonly Lab[], own: number): boolean {
  if (middles.length === 1) return true;
  const next = Math.min(...middles.filter((_, i) => i !== own).map((one) => apart(one, lab)));
  const near = apart(middles[own]!, lab);
  const share = points.filter((point) => nearestIndex(middles, point) === own).length / points.length;
  return near <= SURE_WAY * (near + next) && share >= SURE_POINTS;
}

/** Of knots that come again, those that differ from most of their like are not sure; where there is no most, none of them is. */
function doubtOutliers(known: number[][], likely: readonly (readonly number[])[], repeat: number): void {
  const before = known.map((row) => [...row]);
  before.forEach((row, r) => {
    row.forEach((index, k) => {
      if (index === OPEN) return;
      let same = 0;
      let other = 0;
      for (let at = r % repeat; at < likely.length; at += repeat) {
        const one = before[at]![k]!;
        if (at === r || one === OPEN) continue;
        if (one === index) same += 1;
        else other += 1;
      }
      if (other > 0 && other >= same) known[r]![k] = OPEN;
    });
  });
}
