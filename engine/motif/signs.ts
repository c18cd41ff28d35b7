/** What can be written on a band: letters, digits and motifs, each by a character of its own. */
import { ALONG_STROKES } from './along-letters.ts';
import { type Drawing, drawRows, drawStrokes, enlarge, turnRight } from './drawing.ts';
import { MOTIF_ROWS } from './motif-rows.ts';
import { UPRIGHT_STROKES } from './upright-letters.ts';

/** Upright: signs stand one below the other. Along: they run down the band, their heads at its right. */
export type Run = 'upright' | 'along';

/** A small picture that can stand alone or between letters. */
type MotifName = keyof typeof MOTIF_ROWS;

/** Motifs, in the order in which they are offered. */
const MOTIFS = Object.keys(MOTIF_ROWS) as readonly MotifName[];

/** The character that stands for each motif in a text. */
const MOTIF_SIGNS: Readonly<Record<MotifName, string>> = {
  heart: '♥',
  star: '★',
  moon: '☾',
  leaf: '🍃',
  wave: '≈',
  paw: '🐾',
};

/** Free places at either side, so that a sign keeps ground around it; letters along the band may reach its edges. */
const FREE_PLACES: Readonly<Record<Run, number>> = { upright: 1, along: 0 };

/** Lines between which letters stand: across the way they are read, in the drawing before it is turned. */
const LETTER_BOX: Readonly<Record<Run, number>> = { upright: 8, along: 8 };

/** A sign as it lies on the band. */
export interface PlacedSign {
  readonly drawing: Drawing;
  /** Middle of the lines between which it stands, in places from the drawing's own zero. */
  readonly middle: number;
  /** Places that it takes, the free ones at its sides included. */
  readonly places: number;
}

/** The signs of a text: upper case, marks joined to their letters, `ß` kept; the spaces between words count. */
export function signsOf(text: string): readonly string[] {
  return [...text.normalize('NFC').trim()].map((sign) =>
    sign === 'ß' || sign === 'ẞ' ? 'ß' : /\s/.test(sign) ? ' ' : sign.toUpperCase(),
  );
}

/** The motif that a character stands for, or null. */
function motifOf(sign: string): MotifName | null {
  return MOTIFS.find((name) => MOTIF_SIGNS[name] === sign) ?? null;
}

/** Whether it is drawn; a space is not. */
export function isDrawn(sign: string): boolean {
  return motifOf(sign) !== null || Object.hasOwn(UPRIGHT_STROKES, sign);
}

/**
 * How a sign lies on the band.
 * @param size 1 as drawn; larger, each of its lozenges as size by size
 * @throws RangeError for a sign that is not drawn. O(lozenges).
 */
export function placeSign(sign: string, run: Run, size: number): PlacedSign {
  const motif = motifOf(sign);
  const drawn = motif === null ? drawLetter(sign, run) : drawRows(MOTIF_ROWS[motif]);
  const drawing = enlarge(run === 'along' ? turnRight(drawn) : drawn, size);
  const free = 2 * FREE_PLACES[run];
  if (motif !== null) {
    const { left, right } = drawing;
    return { drawing, middle: (left + right) / 2, places: right - left + 1 + free };
  }
  const box = LETTER_BOX[run];
  const middle = ((run === 'along' ? -1 : 1) * box * size) / 2;
  return { drawing, middle, places: (box + 2) * size - 1 + free };
}

function drawLetter(sign: string, run: Run): Drawing {
  const strokes: Readonly<Record<string, string>> = run === 'upright' ? UPRIGHT_STROKES : ALONG_STROKES;
  const found = Object.hasOwn(strokes, sign) ? strokes[sign] : undefined;
  if (found === undefined) throw new RangeError(`${JSON.stringify(sign)} is not drawn`);
  return drawStrokes(found);
}
