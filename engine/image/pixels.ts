/** A decoded image, and the frame in which a band lies on it. */

/** Pixels as a canvas gives them: red, green, blue, opacity, each 0 to 255, rows from the top; `4 * width * height` long. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly rgba: Uint8Array | Uint8ClampedArray;
}

/**
 * Where a band lies on an image. Image space: pixels, x to the right, y down, 0,0 the upper left corner. Band space is board space, a place
 * one wide and a row `rowPerCord` high, so that the band has its real proportions.
 */
export interface Frame {
  readonly strings: number;
  readonly start: 0 | 1;
  readonly rows: number;
  /** Height of a row in widths of a place. */
  readonly rowPerCord: number;
  /** The point of the image on which the middle of the band lies. */
  readonly middleX: number;
  readonly middleY: number;
  /** How many pixels wide a place is. */
  readonly pxPerPlace: number;
  /** How far the band is turned on the image, clockwise, in degrees. */
  readonly turnDegrees: number;
}

/** From band space to image space: `x = ax * place + bx * row + cx`, y likewise. */
export interface FrameMap {
  readonly ax: number;
  readonly bx: number;
  readonly cx: number;
  readonly ay: number;
  readonly by: number;
  readonly cy: number;
}

/** The map of a frame. @throws RangeError for lengths that are not above 0 and for what is not finite */
export function mapOf(frame: Frame): FrameMap {
  const { strings, rows, rowPerCord, middleX, middleY, pxPerPlace, turnDegrees } = frame;
  for (const [name, value] of Object.entries({ rowPerCord, pxPerPlace }))
    if (!(value > 0 && Number.isFinite(value))) throw new RangeError(`${name} ${value} is not above 0`);
  for (const [name, value] of Object.entries({ middleX, middleY, turnDegrees }))
    if (!Number.isFinite(value)) throw new RangeError(`${name} ${value} is no number`);
  const turn = (turnDegrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn) * pxPerPlace, Math.sin(turn) * pxPerPlace];
  const [bx, by] = [-sin * rowPerCord, cos * rowPerCord];
  // The middle of the band: between the first and the last string, between its first and its last tip.
  const [place, row] = [(strings - 1) / 2, (rows + 1) / 2];
  return {
    ax: cos,
    bx,
    cx: middleX - cos * place - bx * row,
    ay: sin,
    by,
    cy: middleY - sin * place - by * row,
  };
}

/** Fewest and most rows that a frame is given of itself. */
const LEAST_ROWS = 4;
const MOST_ROWS = 400;

/**
 * The frame in which a band of so many strings shows an image: all of it ('whole'), or as much as is covered by it everywhere ('fill').
 * @param rows 'whole' of the image's own shape where they are not given; even then
 */
export function frameFor(
  { width, height }: Pick<Pixels, 'width' | 'height'>,
  band: { readonly strings: number; readonly rowPerCord: number; readonly rows?: number },
  fit: 'whole' | 'fill' = 'whole',
): Frame {
  const { strings, rowPerCord } = band;
  const natural = ((height / width) * strings) / rowPerCord - 1;
  const rows = band.rows ?? Math.min(MOST_ROWS, Math.max(LEAST_ROWS, 2 * Math.round(natural / 2)));
  const across = width / strings;
  const down = height / ((rows + 1) * rowPerCord);
  return {
    strings,
    start: 0,
    rows,
    rowPerCord,
    middleX: width / 2,
    middleY: height / 2,
    pxPerPlace: fit === 'whole' ? Math.max(across, down) : Math.min(across, down),
    turnDegrees: 0,
  };
}
