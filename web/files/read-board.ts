/** Reads what people bring: a board file, or a board as rows of knots. */
import {
  type Board,
  formatBoard,
  KNOT_TOKENS,
  knotsInRow,
  MAX_STRINGS,
  MIN_STRINGS,
  parseBoard,
  patternFromText,
  rowParity,
} from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { sayError } from '../words/index.ts';
import { hexOfName } from './named-colour.ts';

export { loadBoard } from '../../engine/document/index.ts';

export type ReadBoard =
  | { readonly ok: true; readonly value: Board }
  | { readonly ok: false; readonly why: string };

/** Colours for strings whose names are no colours: far apart in lightness and hue, so that they can be told apart. */
const HEXES = [
  '#1f6266',
  '#e8c15a',
  '#a63a1d',
  '#f3ebdf',
  '#2d3a8c',
  '#7fb069',
  '#c77dba',
  '#332b25',
] as const;
const TOKENS: ReadonlySet<string> = new Set(KNOT_TOKENS);

const refuse = (why: string): ReadBoard => ({ ok: false, why });

/** What files of pictures, and of paper that was printed into one, begin with. */
const PICTURES: readonly (readonly [offset: number, start: string])[] = [
  [0, '\x89PNG'], // ISO/IEC 15948, 5.2
  [0, '\xff\xd8\xff'], // ITU-T T.81, B.1.1.3: start of image, and the next marker
  [0, 'GIF8'], // GIF89a, 17
  [8, 'WEBP'], // RFC 9649, 2.3
  [4, 'ftypavif'], // AV1 Image File Format, 6
  [4, 'ftypheic'], // ISO/IEC 23008-12, B.4
  [0, '%PDF-'], // ISO 32000-1, 7.5.2
];

/** A board from a file that somebody chose or dropped; of a picture it is said that it is one. */
export async function readBoardOf(file: Blob): Promise<ReadBoard> {
  const head = String.fromCharCode(...new Uint8Array(await file.slice(0, 16).arrayBuffer()));
  const text = await file.text();
  const isPicture = PICTURES.some(([offset, start]) => head.startsWith(start, offset)) || isSvg(text);
  return isPicture ? refuse(t('io.isPicture')) : readBoardFile(text);
}

function isSvg(text: string): boolean {
  return /^\ufeff?\s*(?:<[?!][^>]*>\s*)*<svg[\s>]/i.test(text.slice(0, 2_000));
}

/** A board file, as text or bytes of UTF-8. Must have begun with a brace; the sentence says what is wrong with it. */
function readBoardFile(text: string): ReadBoard {
  const parsed = parseBoard(text);
  return parsed.ok ? parsed : refuse(sayError(parsed.error));
}

/**
 * A board from text. What begins with a brace is read as a board file. Else each line is a row of knots; a first line with a colon
 * names the colours of the strings. Without it the strings have the colours of `like` where their number fits, else all one.
 * The first row has as many knots as even rows have, or one fewer on an even number of strings: then it begins at the second string.
 * Needs the texts of the group `paper`. O(text).
 */
export function readBoardText(text: string, like: Board | null): ReadBoard {
  if (text.trimStart().startsWith('{')) return readBoardFile(text);
  const lines = text
    .split(/\r?\n/)
    .map((line, i) => ({ number: i + 1, tokens: line.trim().split(/\s+/).filter(Boolean) }))
    .filter(({ tokens }) => tokens.length > 0);
  const names = lines[0]?.tokens[0]?.endsWith(':') ? lines.shift()!.tokens.slice(1) : null;
  if (names !== null && (names.length < MIN_STRINGS || names.length > MAX_STRINGS))
    return refuse(t('io.badStrings', { count: names.length }));
  if (lines.length === 0) return refuse(t('io.noRows'));
  for (const { number, tokens } of lines) {
    const token = tokens.find((one) => !TOKENS.has(one));
    if (token !== undefined) return refuse(t('io.badKnot', { line: number, token }));
  }
  const counts = lines.map(({ tokens }) => tokens.length);
  const strings = names?.length ?? stringsOf(counts);
  if (strings > MAX_STRINGS) return refuse(t('io.badStrings', { count: strings }));
  const start = strings % 2 === 0 && counts[0] === strings / 2 - 1 ? 1 : 0;
  for (const [row, { number, tokens }] of lines.entries()) {
    const expected = knotsInRow(strings, rowParity(start, row));
    if (tokens.length !== expected)
      return refuse(t('io.badRow', { line: number, count: tokens.length, expected }));
  }
  const board = colouredBoard(names, strings, like);
  const pattern = patternFromText(
    board.colours,
    lines.map(({ tokens }) => tokens.join(' ')),
    start,
  );
  // Through the reader of files, so that what holds of a file holds of a text too.
  return readBoardFile(JSON.stringify(formatBoard({ ...board.rest, pattern })));
}

/** Strings of rows that do not say: two rows of the same length are an odd number, else twice the longer row. */
function stringsOf([first = 0, second]: readonly number[]): number {
  return first === second ? 2 * first + 1 : 2 * Math.max(first, second ?? 0);
}

function colouredBoard(
  names: readonly string[] | null,
  strings: number,
  like: Board | null,
): { readonly colours: readonly string[]; readonly rest: Omit<Board, 'pattern'> } {
  const rest = like ?? { title: '', palette: [], piece: {}, gauge: {}, colourways: [] };
  if (names === null && like !== null) {
    const given = like.pattern.colours;
    const colours = given.length === strings ? given : Array.from({ length: strings }, () => given[0]!);
    return { colours, rest };
  }
  const wanted = names ?? Array.from({ length: strings }, () => '1');
  // Names that differ in capitals alone are one colour.
  const firsts = new Map(wanted.toReversed().map((name) => [name.toLowerCase(), name]));
  const distinct = [...new Set(wanted.map((name) => name.toLowerCase()))];
  const known = new Map((like?.palette ?? []).map((colour) => [colour.name.toLowerCase(), colour]));
  const palette = distinct.map(
    (name, i) =>
      known.get(name) ?? {
        id: `text-${i}`,
        name: firsts.get(name)!,
        hex: hexOfName(name) ?? HEXES[i % HEXES.length]!,
      },
  );
  const idOf = new Map(distinct.map((name, i) => [name, palette[i]!.id]));
  return {
    colours: wanted.map((name) => idOf.get(name.toLowerCase())!),
    rest: { ...rest, palette, colourways: [] },
  };
}
