/** The JSON Schema (2020-12) of the board file, for other programs. It says all that a schema can; the parser says the rest. */
import { KNOT_TOKENS, MAX_ROWS, MAX_STRINGS, MIN_STRINGS, PLAIN_TEXT_PATTERN } from '../pattern/index.ts';
import { type FieldRule, GAUGE_FIELDS, PART_FIELDS, PIECE_FIELDS, PIECES, THREAD_FIELDS } from './fields.ts';
import {
  FILE_VERSIONS,
  GAUGE_OF_1,
  GAUGE_SINCE_3,
  HEX_PATTERN,
  MAX_COLOURS,
  MAX_COLOURWAYS,
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

type Schema = { readonly [key: string]: unknown };

function schemaOfRule(rule: FieldRule): Schema {
  switch (rule.type) {
    case 'choice':
      return { enum: rule.of };
    case 'text':
      return text(0, rule.max);
    case 'whole':
      return { type: 'integer', minimum: rule.min, maximum: rule.max };
    case 'number':
      return {
        type: 'number',
        [rule.isMinOpen ? 'exclusiveMinimum' : 'minimum']: rule.min,
        maximum: rule.max,
      };
  }
}

function tableSchema(rules: Readonly<Record<string, FieldRule>>): Schema {
  const properties = Object.fromEntries(
    Object.entries(rules).map(([name, rule]) => [name, schemaOfRule(rule)]),
  );
  return { type: 'object', additionalProperties: false, properties };
}

const text = (minLength: number, maxLength: number): Schema => ({
  type: 'string',
  minLength,
  maxLength,
  pattern: PLAIN_TEXT_PATTERN,
});
const knot = KNOT_TOKENS.join('|');

/** A list of what is kept of threads or parts: what tells one from others, and what is said of it. */
function suppliesSchema(
  most: number,
  key: Readonly<Record<string, Schema>>,
  rules: Readonly<Record<string, FieldRule>>,
  required: readonly string[],
): Schema {
  const said = Object.entries(rules).map(([name, rule]) => [name, schemaOfRule(rule)]);
  const properties = { ...key, ...Object.fromEntries(said) };
  return {
    type: 'array',
    maxItems: most,
    items: { type: 'object', additionalProperties: false, required, properties },
  };
}

const colour: Schema = {
  type: 'object',
  additionalProperties: false,
  required: ['id', 'hex'],
  properties: {
    id: text(1, MAX_ID_CHARACTERS),
    name: text(0, MAX_NAME_CHARACTERS),
    hex: { type: 'string', pattern: HEX_PATTERN },
  },
};

/** What a file of that version must not name. */
function versionBounds(
  version: number,
  lacks: Readonly<Record<'piece' | 'gauge' | 'colourways', readonly string[]>>,
): Schema {
  const without = (fields: readonly string[]): Schema => ({
    type: 'object',
    properties: Object.fromEntries(fields.map((field) => [field, false])),
  });
  return {
    if: { properties: { version: { const: version } } },
    // biome-ignore lint/suspicious/noThenProperty: it is a word of JSON Schema.
    then: {
      properties: {
        piece: without(lacks.piece),
        gauge: without(lacks.gauge),
        colourways: { type: 'array', items: without(lacks.colourways) },
        ...(version < 3 ? { supplies: false } : {}),
      },
    },
  };
}

/**
 * JSON Schema 2020-12 of the board file. Beyond it the parser demands what no schema can say: ids used once, colours that
 * the palette has, as many knots in each row as the strings have pairs there, no more lead-in rows than rows, lengths of
 * text counted in UTF-16 units, so that a character outside the basic plane counts as two, no halves of characters, and at most 100
 * spaces in a row.
 */
export const boardSchema: Schema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'Larkboard board file',
  type: 'object',
  additionalProperties: false,
  required: ['format', 'version', 'palette', 'strings', 'rows'],
  properties: {
    format: { const: 'larkboard' },
    version: { enum: FILE_VERSIONS },
    title: text(0, MAX_TITLE_CHARACTERS),
    palette: { type: 'array', minItems: 1, maxItems: MAX_COLOURS, items: { $ref: '#/$defs/colour' } },
    strings: {
      type: 'array',
      minItems: MIN_STRINGS,
      maxItems: MAX_STRINGS,
      items: text(1, MAX_ID_CHARACTERS),
      description: 'palette id of each string at the top, left to right',
    },
    rows: {
      type: 'array',
      maxItems: MAX_ROWS,
      items: {
        type: 'string',
        maxLength: MAX_ROW_CHARACTERS,
        // Apart for a row of white space alone: one expression for both takes quadratic time to fail on much of it.
        pattern: `^\\s*$|^\\s*(${knot})(\\s+(${knot}))*\\s*$`,
      },
      description: 'one text a row, one token a knot, from left to right',
    },
    start: { enum: [0, 1], description: "place, counted from 0, at which the first row's first knot begins" },
    piece: {
      ...tableSchema(PIECE_FIELDS),
      not: { required: ['repeats', 'lengthMm'], properties: { repeats: true, lengthMm: true } },
    },
    gauge: tableSchema(GAUGE_FIELDS),
    supplies: {
      type: 'object',
      additionalProperties: false,
      properties: {
        threads: suppliesSchema(
          MAX_THREADS,
          { hex: { type: 'string', pattern: HEX_PATTERN }, name: text(0, MAX_NAME_CHARACTERS) },
          THREAD_FIELDS,
          ['hex'],
        ),
        parts: suppliesSchema(MAX_PARTS, { id: text(1, MAX_ID_CHARACTERS) }, PART_FIELDS, ['id']),
      },
      description:
        'what is known of threads, told apart by colour and name (sameAs: `hex.name` of another), and of parts',
    },
    colourways: {
      type: 'array',
      maxItems: MAX_COLOURWAYS,
      items: {
        type: 'object',
        additionalProperties: false,
        required: ['id'],
        properties: {
          id: text(1, MAX_ID_CHARACTERS),
          name: text(0, MAX_NAME_CHARACTERS),
          maker: {
            type: 'object',
            additionalProperties: false,
            required: ['id'],
            properties: { id: text(1, MAX_ID_CHARACTERS), name: text(0, MAX_NAME_CHARACTERS) },
            description: 'whose it is: an id on the server it was made on, and their name',
          },
          pieces: { ...schemaOfRule(PIECES), description: 'how many are made in it' },
          colours: { type: 'array', maxItems: MAX_COLOURS, items: { $ref: '#/$defs/colour' } },
        },
      },
    },
  },
  allOf: [
    versionBounds(1, {
      piece: [...PIECE_SINCE_2, ...PIECE_SINCE_3, ...PIECE_SINCE_4],
      gauge: Object.keys(GAUGE_FIELDS).filter((field) => !GAUGE_OF_1.includes(field)),
      colourways: ['maker', 'pieces'],
    }),
    versionBounds(2, {
      piece: [...PIECE_SINCE_3, ...PIECE_SINCE_4],
      gauge: GAUGE_SINCE_3,
      colourways: ['pieces'],
    }),
    versionBounds(3, { piece: PIECE_SINCE_4, gauge: [], colourways: [] }),
  ],
  $defs: { colour },
};
