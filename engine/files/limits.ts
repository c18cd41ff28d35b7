/** What a board file may hold at most, beyond the limits of the pattern itself. Characters are UTF-16 units. */

/**
 * The latest version of the board file. Version 2 knows `piece.singles`, `piece.shortOneIn`, how sure the gauge is and the `maker` of a
 * colourway; version 3 which thread it is, of what a length is asked and where it stops, what a piece costs beside thread, parts and knots, how
 * many are made, and `supplies`; version 4 how a band begins without a ring. All else is as in version 1.
 */
const FILE_VERSION = 4;
/** Versions that are read. */
export const FILE_VERSIONS: readonly number[] = [1, 2, 3, FILE_VERSION];
/** Fields of `piece` that version 1 lacks. */
export const PIECE_SINCE_2: readonly string[] = ['singles', 'shortOneIn'];
/** Fields of `piece` that version 2 lacks. */
export const PIECE_SINCE_3: readonly string[] = [
  'lengthOf',
  'stopAt',
  'pieces',
  'cutMinutes',
  'mountMinutes',
  'finishMinutes',
  'wasteShare',
  'postPrice',
  'fixedFee',
  'soldAs',
  'marginShare',
  'feeShare',
  'taxShare',
];
/** Fields of `piece` that version 3 lacks. */
export const PIECE_SINCE_4: readonly string[] = ['begin', 'headKnot', 'headMm', 'loopMm'];
/** Fields of `gauge` that version 2 lacks. */
export const GAUGE_SINCE_3: readonly string[] = ['thread', 'threadMm'];
/** Fields of `gauge` that version 1 has. */
export const GAUGE_OF_1: readonly string[] = ['cordMm', 'rowMm', 'knottingMm', 'carrierMm'];
/** Of a board. */
export const MAX_TITLE_CHARACTERS = 120;
/** Of the notes about a piece. */
export const MAX_NOTES_CHARACTERS = 4_000;
/** Of a colour, a colourway or a person. */
export const MAX_NAME_CHARACTERS = 60;
/** Of a colour's or colourway's id. */
export const MAX_ID_CHARACTERS = 60;
/** In a palette: one for each string. */
export const MAX_COLOURS = 200;
/** In a matching set. */
export const MAX_COLOURWAYS = 100;
/** In the text of one row: three for each of the most knots, and as much again for who sets them under each other. */
export const MAX_ROW_CHARACTERS = 1_000;
/** In the text of a file; the largest board in JSON takes less. */
export const MAX_FILE_CHARACTERS = 40_000_000;
/** Lengths are above this many mm: less than any ruler shows is a slip, and dividing by it gives no number. */
export const LEAST_MM = 0.01;
/** A pace is above this many knots a minute: less than one in an hour and a half. */
export const LEAST_PACE = 0.01;
/** `#rrggbb`. */
export const HEX_PATTERN = '^#[0-9a-fA-F]{6}$';
/** In a list of threads, of what is kept of them. */
export const MAX_THREADS = 1_000;
/** In a list of parts. */
export const MAX_PARTS = 100;
/** Pieces of one colourway. */
export const MAX_PIECES = 1_000;
