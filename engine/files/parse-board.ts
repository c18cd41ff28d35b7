/** Reads a board file. Strict: what the format does not name is refused, and every refusal names its place. */
import {
  type Board,
  type Colourway,
  type ColourwayMaker,
  codeOfToken,
  type Demand,
  demandMessage,
  demandOfText,
  type Gauge,
  knotsInRow,
  MAX_ROWS,
  MAX_STRINGS,
  MIN_STRINGS,
  type PaletteColour,
  type Pattern,
  type PartSupply,
  type Piece,
  rowParity,
  rowStride,
  showName,
  type Supplies,
  showValue,
  type ThreadSupply,
  tokensOf,
} from '../pattern/index.ts';
import {
  demandOf,
  type FieldRule,
  GAUGE_FIELDS,
  PART_FIELDS,
  PIECE_FIELDS,
  PIECES,
  THREAD_FIELDS,
} from './fields.ts';
import {
  FILE_VERSIONS,
  GAUGE_OF_1,
  GAUGE_SINCE_3,
  HEX_PATTERN,
  MAX_COLOURS,
  MAX_COLOURWAYS,
  MAX_FILE_CHARACTERS,
  MAX_ID_CHARACTERS,
  MAX_NAME_CHARACTERS,
  MAX_ROW_CHARACTERS,
  MAX_PARTS,
  MAX_THREADS,
  MAX_TITLE_CHARACTERS,
  PIECE_SINCE_2,
  PIECE_SINCE_3,
  PIECE_SINCE_4,
} from './limits.ts';
import { type Fields, isPlainList, plainFields } from './plain-data.ts';
import { gatherSupplies, threadKey } from './supplies.ts';
import { supplyValues } from './supply-values.ts';

/** What is wrong with a file; the page has a sentence for each. */
export type BoardErrorKind =
  | 'not-json'
  | 'not-a-board'
  | 'unknown-version'
  | 'missing-field'
  | 'unknown-field'
  | 'wrong-type'
  | 'out-of-range'
  | 'duplicate-id'
  | 'unknown-colour'
  | 'unknown-knot'
  | 'wrong-count';

/** Why a file is no board. */
export interface BoardError {
  readonly kind: BoardErrorKind;
  /** Where, such as `rows[3]` or `palette[0].hex`; empty for the file as a whole. */
  readonly path: string;
  /** An English sentence for people who read logs; the page has its own, by `demand` or `kind`. */
  readonly message: string;
  /** What would have to stand there, where that can be said. */
  readonly demand?: Demand;
  /** What stands there, as it may stand in a sentence; with `demand`. */
  readonly value?: string;
}

/** The board, or why the file is none. */
export type ParseResult =
  | { readonly ok: true; readonly value: Board }
  | { readonly ok: false; readonly error: BoardError };

/** Carries an error out of the nested readers below; never leaves this file. */
class Refusal extends Error {
  readonly error: BoardError;

  constructor(kind: BoardErrorKind, path: string, what: string | Demand, found?: unknown) {
    const value = showValue(found);
    const text = typeof what === 'string' ? what : demandMessage(what, value);
    super(text);
    const message = path === '' ? text : `${path}: ${text}`;
    this.error = { kind, path, message, ...(typeof what === 'string' ? {} : { demand: what, value }) };
  }
}

const HEX = new RegExp(HEX_PATTERN);
const PIECE_OF_3 = Object.keys(PIECE_FIELDS).filter((name) => !PIECE_SINCE_4.includes(name));
const PIECE_OF_2 = PIECE_OF_3.filter((name) => !PIECE_SINCE_3.includes(name));
const PIECE_OF_1 = PIECE_OF_2.filter((name) => !PIECE_SINCE_2.includes(name));
const GAUGE_OF_2 = Object.keys(GAUGE_FIELDS).filter((name) => !GAUGE_SINCE_3.includes(name));
const TOP_FIELDS = [
  'format',
  'version',
  'title',
  'palette',
  'strings',
  'rows',
  'start',
  'piece',
  'gauge',
  'colourways',
];
const TOP_FIELDS_OF_3 = [...TOP_FIELDS, 'supplies'];

/**
 * Reads a board file.
 * @param json the file's text, or the value that its JSON stands for
 * @returns the board, or an error with the path of the first bad field; never throws, inputs untouched.
 * `format`, `version`, `palette`, `strings` and `rows` must be there; `title` is '' , `start` 0, `piece`, `gauge` and
 * `colourways` empty when absent. O(size of the file). Rules P4 to P6 and P30 to P33 in engine/RULES.md.
 */
export function parseBoard(json: unknown): ParseResult {
  try {
    return { ok: true, value: readBoard(typeof json === 'string' ? readJson(json) : json) };
  } catch (thrown) {
    if (thrown instanceof Refusal) return { ok: false, error: thrown.error };
    throw thrown;
  }
}

function readJson(text: string): unknown {
  if (text.length > MAX_FILE_CHARACTERS)
    throw new Refusal(
      'out-of-range',
      '',
      { be: 'characters', least: 0, most: MAX_FILE_CHARACTERS },
      text.length,
    );
  try {
    return JSON.parse(text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
  } catch (cause) {
    throw new Refusal('not-json', '', `the file is not whole JSON: ${(cause as Error).message}`);
  }
}

function readBoard(value: unknown): Board {
  const file = asFields(value, '', 'not-a-board');
  if (file.format !== 'larkboard') throw new Refusal('not-a-board', 'format', 'must be "larkboard"');
  const version = FILE_VERSIONS.find((one) => one === file.version);
  if (version === undefined)
    throw new Refusal(
      'unknown-version',
      'version',
      { be: 'one-of', choices: FILE_VERSIONS.join(', ') },
      file.version,
    );
  refuseUnknown(file, '', version < 3 ? TOP_FIELDS : TOP_FIELDS_OF_3);
  for (const name of ['palette', 'strings', 'rows'])
    if (file[name] === undefined) throw new Refusal('missing-field', name, 'is missing');
  const palette = asList(file.palette, 'palette', 1, MAX_COLOURS).map((entry, i) =>
    readColour(entry, `palette[${i}]`),
  );
  refuseDuplicates(palette, 'palette');
  const known = new Set(palette.map((colour) => colour.id));
  const strings = asList(file.strings, 'strings', MIN_STRINGS, MAX_STRINGS).map((id, i) =>
    readKnownColour(id, `strings[${i}]`, known),
  );
  const pattern = readPattern(strings, file);
  const piece = readTable<Piece>(orPreset(file.piece, {}), 'piece', PIECE_FIELDS);
  const gauge = readTable<Gauge>(orPreset(file.gauge, {}), 'gauge', GAUGE_FIELDS);
  if (version === 1) {
    refuseUnknown({ ...piece }, 'piece', PIECE_OF_1);
    refuseUnknown({ ...gauge }, 'gauge', GAUGE_OF_1);
  }
  if (version < 3) {
    refuseUnknown({ ...piece }, 'piece', PIECE_OF_2);
    refuseUnknown({ ...gauge }, 'gauge', GAUGE_OF_2);
  }
  if (version < 4) refuseUnknown({ ...piece }, 'piece', PIECE_OF_3);
  if (piece.repeats !== undefined && piece.lengthMm !== undefined)
    throw new Refusal(
      'out-of-range',
      'piece.lengthMm',
      { be: 'unset-beside', other: 'piece.repeats' },
      piece.lengthMm,
    );
  if (piece.leadInRows !== undefined && piece.leadInRows > pattern.rows)
    throw new Refusal(
      'out-of-range',
      'piece.leadInRows',
      { be: 'whole', least: 0, most: pattern.rows },
      piece.leadInRows,
    );
  const supplies = readSupplies(orPreset(file.supplies, {}));
  return {
    title: asText(orPreset(file.title, ''), 'title', 0, MAX_TITLE_CHARACTERS),
    palette,
    pattern,
    piece,
    gauge,
    colourways: readColourways(orPreset(file.colourways, []), known, version),
    ...(supplies === undefined ? {} : { supplies }),
  };
}

/** What is said of threads and parts, in the one order that lists of them have; those of which nothing is said are none. */
function readSupplies(value: unknown): Supplies | undefined {
  const file = asFields(value, 'supplies');
  refuseUnknown(file, 'supplies', ['threads', 'parts']);
  const threads = asList(orPreset(file.threads, []), 'supplies.threads', 0, MAX_THREADS).map((entry, i) => {
    const path = `supplies.threads[${i}]`;
    const { hex, name, ...said } = asFields(entry, path);
    return {
      hex: asHex(hex, `${path}.hex`),
      name: asText(orPreset(name, ''), `${path}.name`, 0, MAX_NAME_CHARACTERS),
      ...readTable<Omit<ThreadSupply, 'hex' | 'name'>>(said, path, THREAD_FIELDS),
    };
  });
  refuseDuplicates(
    threads.map((thread) => ({ id: threadKey(thread) })),
    'supplies.threads',
  );
  const parts = asList(orPreset(file.parts, []), 'supplies.parts', 0, MAX_PARTS).map((entry, i) => {
    const path = `supplies.parts[${i}]`;
    const { id, ...said } = asFields(entry, path);
    return {
      id: asText(id, `${path}.id`, 1, MAX_ID_CHARACTERS),
      ...readTable<Omit<PartSupply, 'id'>>(said, path, PART_FIELDS),
    };
  });
  refuseDuplicates(parts, 'supplies.parts');
  return gatherSupplies(supplyValues({ threads, parts })).supplies;
}

function readPattern(colours: readonly string[], file: Fields): Pattern {
  const start = orPreset(file.start, 0);
  if (start !== 0 && start !== 1)
    throw new Refusal('out-of-range', 'start', { be: 'one-of', choices: '0, 1' }, start);
  const rows = asList(file.rows, 'rows', 0, MAX_ROWS);
  const stride = rowStride(colours.length);
  const knots = new Uint8Array(rows.length * stride);
  rows.forEach((row, r) => {
    const path = `rows[${r}]`;
    if (typeof row !== 'string') throw new Refusal('wrong-type', path, { be: 'text' }, row);
    if (row.length > MAX_ROW_CHARACTERS)
      throw new Refusal(
        'out-of-range',
        path,
        { be: 'characters', least: 0, most: MAX_ROW_CHARACTERS },
        row.length,
      );
    const tokens = tokensOf(row);
    const count = knotsInRow(colours.length, rowParity(start, r));
    tokens.forEach((token, k) => {
      const code = codeOfToken(token);
      if (code === undefined) throw new Refusal('unknown-knot', path, { be: 'knot' }, token);
      if (k < count) knots[r * stride + k] = code;
    });
    if (tokens.length !== count)
      throw new Refusal('wrong-count', path, { be: 'knots', count, strings: colours.length }, tokens.length);
  });
  return { colours, start, rows: rows.length, knots };
}

function readColourways(value: unknown, known: ReadonlySet<string>, version: number): Colourway[] {
  const names = [
    'id',
    'name',
    'colours',
    ...(version < 2 ? [] : ['maker']),
    ...(version < 3 ? [] : ['pieces']),
  ];
  const colourways = asList(value, 'colourways', 0, MAX_COLOURWAYS).map((entry, i) => {
    const path = `colourways[${i}]`;
    const fields = asFields(entry, path);
    refuseUnknown(fields, path, names);
    const colours = asList(orPreset(fields.colours, []), `${path}.colours`, 0, MAX_COLOURS).map(
      (colour, j) => {
        const read = readColour(colour, `${path}.colours[${j}]`);
        readKnownColour(read.id, `${path}.colours[${j}].id`, known);
        return read;
      },
    );
    refuseDuplicates(colours, `${path}.colours`);
    return {
      id: asText(fields.id, `${path}.id`, 1, MAX_ID_CHARACTERS),
      name: asText(orPreset(fields.name, ''), `${path}.name`, 0, MAX_NAME_CHARACTERS),
      ...(fields.maker === undefined ? {} : { maker: readMaker(fields.maker, `${path}.maker`) }),
      ...(fields.pieces === undefined ? {} : { pieces: readPieces(fields.pieces, `${path}.pieces`) }),
      colours,
    };
  });
  refuseDuplicates(colourways, 'colourways');
  return colourways;
}

function readMaker(value: unknown, path: string): ColourwayMaker {
  const fields = asFields(value, path);
  refuseUnknown(fields, path, ['id', 'name']);
  return {
    id: asText(fields.id, `${path}.id`, 1, MAX_ID_CHARACTERS),
    name: asText(orPreset(fields.name, ''), `${path}.name`, 0, MAX_NAME_CHARACTERS),
  };
}

function readColour(value: unknown, path: string): PaletteColour {
  const fields = asFields(value, path);
  refuseUnknown(fields, path, ['id', 'name', 'hex']);
  const hex = asHex(fields.hex, `${path}.hex`);
  return {
    id: asText(fields.id, `${path}.id`, 1, MAX_ID_CHARACTERS),
    name: asText(orPreset(fields.name, ''), `${path}.name`, 0, MAX_NAME_CHARACTERS),
    hex,
  };
}

function readPieces(value: unknown, path: string): number {
  const demand = demandOf(PIECES, value);
  if (demand !== null) throw new Refusal('out-of-range', path, demand, value);
  return value as number;
}

function readKnownColour(value: unknown, path: string, known: ReadonlySet<string>): string {
  if (typeof value !== 'string') throw new Refusal('wrong-type', path, { be: 'text' }, value);
  if (!known.has(value))
    throw new Refusal('unknown-colour', path, `the palette has no colour ${showValue(value)}`);
  return value;
}

function readTable<T>(value: unknown, path: string, rules: Readonly<Record<keyof T & string, FieldRule>>): T {
  const fields = asFields(value, path);
  refuseUnknown(fields, path, Object.keys(rules));
  const read: Record<string, unknown> = {};
  for (const [name, rule] of Object.entries<FieldRule>(rules)) {
    const field = fields[name];
    if (field === undefined) continue;
    const demand = demandOf(rule, field);
    if (demand !== null) throw new Refusal('out-of-range', `${path}.${name}`, demand, field);
    // -0 is written as 0.
    read[name] = field === 0 ? 0 : field;
  }
  return read as T;
}

function asFields(value: unknown, path: string, kind: BoardErrorKind = 'wrong-type'): Fields {
  const fields = plainFields(value);
  if (fields === null) throw new Refusal(kind, path, { be: 'object' }, value);
  return fields;
}

function asList(value: unknown, path: string, least: number, most: number): readonly unknown[] {
  if (!isPlainList(value)) throw new Refusal('wrong-type', path, { be: 'list' }, value);
  if (value.length < least || value.length > most)
    throw new Refusal('out-of-range', path, { be: 'entries', least, most }, value.length);
  // Holes become undefined, which no reader of an entry takes; over holes themselves `map` would step.
  return Array.from(value, (entry) => entry);
}

function asText(value: unknown, path: string, least: number, most: number): string {
  if (value === undefined) throw new Refusal('missing-field', path, 'is missing');
  if (typeof value !== 'string') throw new Refusal('wrong-type', path, { be: 'text' }, value);
  if (value.length < least || value.length > most)
    throw new Refusal('out-of-range', path, { be: 'characters', least, most }, value.length);
  const demand = demandOfText(value);
  if (demand !== null) throw new Refusal('out-of-range', path, demand, value);
  return value;
}

function asHex(value: unknown, path: string): string {
  const hex = asText(value, path, 0, 100);
  if (!HEX.test(hex)) throw new Refusal('out-of-range', path, { be: 'hex' }, hex);
  return hex.toLowerCase();
}

function refuseUnknown(fields: Fields, path: string, known: readonly string[]): void {
  for (const name of Object.keys(fields))
    if (!known.includes(name)) {
      const at = path === '' ? showName(name) : `${path}.${showName(name)}`;
      throw new Refusal('unknown-field', at, 'is no field of this format');
    }
}

function refuseDuplicates(entries: readonly { readonly id: string }[], path: string): void {
  const seen = new Set<string>();
  entries.forEach(({ id }, i) => {
    if (seen.has(id)) throw new Refusal('duplicate-id', `${path}[${i}].id`, `${showValue(id)} is used twice`);
    seen.add(id);
  });
}

/** The value of a field that need not be there; null is a value, and a wrong one. */
function orPreset(value: unknown, preset: unknown): unknown {
  return value === undefined ? preset : value;
}
