/** The rows that end the band. */
import {
  BACKWARD,
  type EndKind,
  FORWARD,
  knotsInRow,
  type Pattern,
  rowParity,
  rowStride,
} from '../pattern/index.ts';

/** Rows in the layout of a `Pattern`, to be worked directly below it. */
export interface FinishRows {
  /** Parity of the first of these rows: the stagger goes on from the pattern's last row. */
  readonly start: 0 | 1;
  readonly rows: number;
  /** `rows * (N >> 1)` bytes; 0 where the strings already hang down. */
  readonly knots: Uint8Array;
  /** Knots tied in each row. */
  readonly counts: readonly number[];
}

/** Neighbouring places, both ends included; empty when `from > to`. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/**
 * Rows that end the band below the pattern's last row.
 *
 * A knot is tied where it hangs under two knots of the row above, so each row has one knot fewer, down to a point of one
 * (rule F1). `triangle` takes all strings as one; `double triangle` takes each half by itself, leaving out the knots between
 * the halves (and, of an odd number of strings, the middle one); `straight` adds nothing. Within a triangle the left half is
 * forward, the right half backward: the outermost string on either side is carried inwards along the slope, which so shows one
 * string (F2). A knot in the middle of a triangle is forward, in the right one of two triangles backward.
 *
 * The last row counts as fully tied, whatever it leaves out. A pattern of no rows gets its first row from edge to edge.
 * The rows do not depend on how often the pattern is repeated: every repeat ends on the same stagger.
 *
 * O(rows returned x strings), at most N²/4.
 */
export function finishRows(pattern: Pattern, kind: EndKind): FinishRows {
  const strings = pattern.colours.length;
  const start = rowParity(pattern.start, pattern.rows);
  const spans = firstSpans(pattern, kind, start);
  const rows = Math.max(0, ...spans.map((span) => knotsIn(span)));
  const stride = rowStride(strings);
  const knots = new Uint8Array(rows * stride);
  const counts = new Array<number>(rows).fill(0);
  for (const [index, span] of spans.entries()) {
    const middle = index === 0 ? FORWARD : BACKWARD;
    for (let row = 0; row < knotsIn(span); row++) {
      const count = knotsIn(span) - row;
      const first = (span.from + row - rowParity(start, row)) >> 1;
      for (let j = 0; j < count; j++) {
        const fromCentre = 2 * j - (count - 1);
        knots[row * stride + first + j] = fromCentre === 0 ? middle : fromCentre < 0 ? FORWARD : BACKWARD;
      }
      counts[row] = (counts[row] as number) + count;
    }
  }
  return { start, rows, knots, counts };
}

/** The pattern with the rows of {@link finishRows} below it. */
export function withFinish(pattern: Pattern, kind: EndKind): Pattern {
  const finish = finishRows(pattern, kind);
  const knots = new Uint8Array(pattern.knots.length + finish.knots.length);
  knots.set(pattern.knots);
  knots.set(finish.knots, pattern.knots.length);
  return { ...pattern, rows: pattern.rows + finish.rows, knots };
}

/** Places tied in the first end row: one span for each triangle, left to right. */
function firstSpans(pattern: Pattern, kind: EndKind, start: 0 | 1): readonly Span[] {
  const strings = pattern.colours.length;
  const under = supported(pattern, start);
  switch (kind) {
    case 'straight':
      return [];
    case 'triangle':
      return [under];
    case 'double triangle': {
      const half = strings >> 1;
      return [
        within(under, { from: 0, to: half - 1 }),
        within(under, { from: strings - half, to: strings - 1 }),
      ];
    }
    default:
      throw new TypeError(`unknown end ${JSON.stringify(kind satisfies never)}`);
  }
}

/** Places under two knots of the last row; of a pattern of no rows, all that its first row ties. */
function supported(pattern: Pattern, start: 0 | 1): Span {
  const strings = pattern.colours.length;
  if (pattern.rows === 0) return { from: start, to: start + 2 * knotsInRow(strings, start) - 1 };
  const last = rowParity(pattern.start, pattern.rows - 1);
  return { from: last + 1, to: last + 2 * knotsInRow(strings, last) - 2 };
}

/** The whole knots of `span` that lie in `section`. */
function within(span: Span, section: Span): Span {
  const from = span.from + 2 * Math.ceil(Math.max(0, section.from - span.from) / 2);
  const to = span.to - 2 * Math.ceil(Math.max(0, span.to - section.to) / 2);
  return { from, to };
}

function knotsIn(span: Span): number {
  return Math.max(0, (span.to - span.from + 1) >> 1);
}
