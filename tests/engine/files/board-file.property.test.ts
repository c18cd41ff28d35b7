import { Ajv2020 } from 'ajv/dist/2020.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { gatherSupplies } from '../../../engine/files/index.ts';
import type { BoardErrorKind } from '../../../engine/files/parse-board.ts';
import { type Board, boardSchema, formatBoard, parseBoard, patternFromText } from '../../../engine/index.ts';
import { rowsAsText } from '../../../engine/pattern/text.ts';
import { anyPattern } from '../../support/patterns.ts';

const validate = new Ajv2020({ strict: true }).compile(boardSchema);

const hex = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, '0')}`);
/** Letters of one UTF-16 unit each; of others the parser counts two where the schema counts one. */
const name = fc.string({ unit: fc.constantFrom(...'abc äß"\\ \n#-'), maxLength: 60 });
const above = (max: number) => fc.double({ min: 0.01, minExcluded: true, max, noNaN: true });

const anySupplyKey = fc.oneof(
  fc
    .tuple(fc.constantFrom('number', 'price', 'skeinMm', 'haveMm', 'sameAs'), hex, name)
    .map(([field, of, called]) => `thread.${field}.${of}.${called}`),
  fc
    .tuple(fc.constantFrom('name', 'count', 'price', 'have'), fc.constantFrom('p', 'q', 'p.q', '#'))
    .map(([field, id]) => `part.${field}.${id}`),
);

/** Any valid board: every optional field there or not. */
const anyBoard: fc.Arbitrary<Board> = fc
  .record({
    pattern: anyPattern({ maxStrings: 9, maxRows: 6, maxColours: 4 }),
    title: fc.string({ maxLength: 60 }),
    names: fc.array(name, { minLength: 4, maxLength: 4 }),
    hexes: fc.array(hex, { minLength: 4, maxLength: 4 }),
    piece: fc.record(
      {
        end: fc.constantFrom('straight', 'triangle', 'double triangle'),
        endKnot: fc.constantFrom('overhand', 'tassel', 'braid', 'none'),
        leadInRows: fc.constant(0),
        repeats: fc.integer({ min: 1, max: 10_000 }),
        lengthOf: fc.constantFrom('band', 'whole'),
        stopAt: fc.constantFrom('row', 'finished'),
        ring: fc.constantFrom('round', 'd-ring'),
        singles: fc.constantFrom('forced', 'free'),
        barMm: above(10_000),
        tailMm: fc.double({ min: 0, max: 10_000, noNaN: true }).map((value) => value + 0),
        notes: name,
        shortOneIn: fc.integer({ min: 3, max: 1000 }),
        skeinPrice: fc.integer({ min: 0, max: 1_000_000 }),
        marginShare: fc.double({ min: 0, max: 0.95, noNaN: true }).map((value) => value + 0),
        soldAs: fc.constantFrom('each', 'together'),
      },
      { requiredKeys: [] },
    ),
    gauge: fc.record(
      {
        thread: fc.constantFrom('floss', 'cord', 'own'),
        threadMm: above(100),
        cordMm: above(100),
        rowMm: above(1000),
        knottingMm: above(10_000),
        cordErrorMm: above(10_000),
        takeUpFreedom: fc.integer({ min: 0, max: 1000 }),
        rowKnottingCorrelation: fc.double({ min: -1, max: 1, noNaN: true }).map((value) => value + 0),
      },
      { requiredKeys: [] },
    ),
    colourways: fc.integer({ min: 0, max: 3 }),
    pieces: fc.integer({ min: 1, max: 1000 }),
    values: fc.array(fc.tuple(anySupplyKey, fc.oneof(name, fc.integer({ min: 0, max: 1000 }))), {
      maxLength: 8,
    }),
  })
  .map(({ pattern, title, names, hexes, piece, gauge, colourways, pieces, values }) => ({
    title,
    palette: names.map((colourName, i) => ({ id: `c${i}`, name: colourName, hex: hexes[i]! })),
    pattern,
    piece: { ...piece } as Board['piece'],
    gauge: { ...gauge } as Board['gauge'],
    colourways: Array.from({ length: colourways }, (_, i) => ({
      id: `w${i}`,
      name: names[i]!,
      ...(i === 1 ? { maker: { id: 'person', name: names[0]! } } : {}),
      ...(i === 2 ? { pieces } : {}),
      colours: [{ id: `c${i}`, name: names[3]!, hex: hexes[3]! }],
    })),
    ...suppliesOf(values),
  }));

/** Nothing where there is none, as in every board. */
function suppliesOf(values: Parameters<typeof gatherSupplies>[0]): Pick<Board, 'supplies'> {
  const { supplies } = gatherSupplies(values);
  return supplies === undefined ? {} : { supplies };
}

type Path = readonly (string | number)[];

/** Every place in a JSON value. */
function pathsOf(value: unknown, path: Path = []): Path[] {
  if (typeof value !== 'object' || value === null) return [path];
  const inner = Array.isArray(value)
    ? value.flatMap((entry, i) => pathsOf(entry, [...path, i]))
    : Object.entries(value).flatMap(([key, entry]) => pathsOf(entry, [...path, key]));
  return [path, ...inner];
}

type Change =
  | { readonly kind: 'set'; readonly value: unknown }
  | { readonly kind: 'remove' | 'twice' | 'add' };

/** The value with one place changed. */
function changed(value: unknown, [step, ...rest]: Path, change: Change): unknown {
  if (step === undefined) return change.kind === 'set' ? change.value : value;
  const copy: Record<string | number, unknown> = Array.isArray(value)
    ? ([...value] as unknown as Record<string | number, unknown>)
    : { ...(value as object) };
  if (rest.length > 0 || change.kind === 'set') copy[step] = changed(copy[step], rest, change);
  else if (change.kind === 'add') copy[Array.isArray(value) ? (copy.length as number) : 'extra'] = copy[step];
  else if (Array.isArray(copy))
    copy.splice(step as number, 1, ...(change.kind === 'twice' ? [copy[step], copy[step]] : []));
  else if (change.kind === 'remove') delete copy[step];
  return copy;
}

const anyChange: fc.Arbitrary<Change> = fc.oneof(
  fc
    .oneof(
      fc.constantFrom<unknown>(
        null,
        true,
        '',
        'x',
        -1,
        0,
        1,
        2,
        0.5,
        1e9,
        10_001,
        Number.POSITIVE_INFINITY,
        [],
        {},
      ),
      fc.constantFrom<unknown>('f', 'f f', 'b  fb', ' - ', 'F', 'c0', 'c9', '#12', '#ABCDEF', 'triangle', [
        'c0',
        'c1',
      ]),
      fc.jsonValue({ maxDepth: 2 }),
      fc.string({ unit: 'grapheme-ascii', maxLength: 130 }),
    )
    .map((value): Change => ({ kind: 'set', value })),
  fc.constantFrom<Change>({ kind: 'remove' }, { kind: 'twice' }, { kind: 'add' }),
);

/** What a schema cannot say. */
const BEYOND_SCHEMA: ReadonlySet<BoardErrorKind> = new Set(['duplicate-id', 'unknown-colour', 'wrong-count']);

describe('board files', () => {
  it('[P5] any board comes back as it was, as a value and as text, and obeys the schema', () => {
    fc.assert(
      fc.property(anyBoard, (board) => {
        const before = structuredClone(board);
        const file = formatBoard(board);
        expect(validate(file), JSON.stringify(validate.errors)).toBe(true);
        expect(parseBoard(file)).toEqual({ ok: true, value: board });
        expect(parseBoard(JSON.stringify(file))).toEqual({ ok: true, value: board });
        expect(board).toEqual(before);
      }),
      { numRuns: 300 },
    );
  });

  it('[P6] schema and parser agree on files changed in one or two places, but for what a schema cannot say', () => {
    const seen = { both: 0, neither: 0, parserOnly: 0 };
    fc.assert(
      fc.property(
        anyBoard,
        fc.array(fc.tuple(fc.nat(), anyChange), { minLength: 1, maxLength: 2 }),
        (board, changes) => {
          let file: unknown = JSON.parse(JSON.stringify(formatBoard(board)));
          for (const [n, change] of changes) {
            const paths = pathsOf(file);
            file = changed(file, paths[n % paths.length]!, change);
          }
          const read = parseBoard(file);
          const isValid = validate(file);
          if (read.ok) {
            expect(isValid, JSON.stringify(validate.errors)).toBe(true);
            expect(parseBoard(formatBoard(read.value))).toEqual(read);
            seen.both++;
            return;
          }
          expect(read.error.message.startsWith(read.error.path)).toBe(true);
          if (!isValid) {
            seen.neither++;
            return;
          }
          seen.parserOnly++;
          const isLeadIn = read.error.path === 'piece.leadInRows';
          expect(isLeadIn || BEYOND_SCHEMA.has(read.error.kind), JSON.stringify(read.error)).toBe(true);
        },
      ),
      { numRuns: 3000, seed: 61 },
    );
    for (const [outcome, count] of Object.entries(seen)) expect(count, outcome).toBeGreaterThan(50);
  });

  it('[P6] whatever value is given, the answer is a board or an error, never a throw', () => {
    fc.assert(
      fc.property(
        fc.oneof(fc.anything({ withBigInt: true, withDate: true, withMap: true }), fc.json(), fc.string()),
        (value) => {
          expect(typeof parseBoard(value).ok).toBe('boolean');
        },
      ),
      { numRuns: 2000 },
    );
  });

  it('[P6] values that are no JSON are refused by their place', () => {
    const file = {
      format: 'larkboard',
      version: 1,
      palette: [{ id: 'a', hex: '#000000' }],
      strings: ['a', 'a'],
    };
    for (const row of [1n, Symbol('x'), () => 'f', new Date(0), undefined])
      expect(parseBoard({ ...file, rows: [row] })).toMatchObject({ ok: false, error: { path: 'rows[0]' } });
    expect(parseBoard({ ...file, version: 1n })).toMatchObject({ ok: false, error: { path: 'version' } });
  });

  it('[P3] rows come back from text as they were', () => {
    fc.assert(
      fc.property(anyPattern(), (pattern) => {
        expect(patternFromText(pattern.colours, rowsAsText(pattern), pattern.start)).toEqual(pattern);
      }),
    );
  });

  it('[P6] null is a value, and a wrong one, where a field may be absent', () => {
    const file = {
      format: 'larkboard',
      version: 1,
      palette: [{ id: 'a', hex: '#000000' }],
      strings: ['a', 'a'],
      rows: ['f'],
    };
    for (const field of ['title', 'start', 'piece', 'gauge', 'colourways']) {
      expect(parseBoard({ ...file, [field]: null })).toMatchObject({ ok: false, error: { path: field } });
      expect(validate({ ...file, [field]: null })).toBe(false);
    }
    expect(parseBoard({ ...file, palette: [{ id: 'a', name: null, hex: '#000000' }] })).toMatchObject({
      ok: false,
      error: { kind: 'wrong-type', path: 'palette[0].name' },
    });
  });

  it('[P1] the largest board is read and written', () => {
    const strings = Array.from({ length: 200 }, () => 'a');
    const rows = Array.from({ length: 20_000 }, (_, row) =>
      Array(row % 2 === 0 ? 100 : 99)
        .fill('bf')
        .join(' '),
    );
    const file = { format: 'larkboard', version: 1, palette: [{ id: 'a', hex: '#000000' }], strings, rows };
    const read = parseBoard(file);
    expect(read.ok && formatBoard(read.value).rows).toEqual(rows);
  });
});
