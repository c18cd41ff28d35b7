/** The way through a lesson: places as numbers, keychains as places, and the same for the other hand. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { type LessonPlace, placeText } from '../../../engine/document/index.ts';
import {
  type Board,
  cutListOf,
  looseKnots,
  parseBoard,
  planMount,
  stepKey,
  workOrder,
} from '../../../engine/index.ts';
import { Course } from '../../../web/lesson/course.ts';
import { draftPlan } from '../../../web/lesson/draft-plan.ts';
import { cordsOf, freshKeychain, mirrorBoard } from '../../../web/table/index.ts';

const boards = readdirSync('demo-data')
  .filter((name) => name.endsWith('.json'))
  .flatMap((name): readonly (readonly [string, Board])[] => {
    const read = parseBoard(JSON.parse(readFileSync(join('demo-data', name), 'utf8')));
    return read.ok && read.value.pattern.knots.length < 2_000 ? [[name, read.value]] : [];
  });

function courseOf(board: Board, isMirrored: boolean): Course {
  const cords = cordsOf(cutListOf(board, planMount(board.pattern.colours)));
  const order = workOrder(board, { method: 'rows', covers: 'piece', firstHalf: 'left' });
  if (!order.ok) throw new Error(order.error.message);
  return new Course({ cords, steps: order.steps, board, isMirrored });
}

/** Some places of every stage, up to the last. */
function placesOf(course: Course): readonly LessonPlace[] {
  const knots = course.steps.map((_, at) => course.nameOf(at)!);
  const every = Math.max(1, Math.floor(knots.length / 40));
  return [
    ...course.cords.map((_, done): LessonPlace => ({ stage: 'cut', done })),
    { stage: 'cut', done: course.cords.length },
    ...Array.from({ length: course.moves.length + 1 }, (_, done): LessonPlace => ({ stage: 'mount', done })),
    ...knots.filter((_, at) => at % every === 0).map((knot): LessonPlace => ({ stage: 'tie', knot })),
    { stage: 'tie', knot: null },
    { stage: 'finish', done: 0 },
  ];
}

it('[R44] there are boards to try', () => expect(boards.length).toBeGreaterThan(3));

describe.each(boards)('%s', (_name, board) => {
  it('[R44] each place is further than the one before, and a keychain put there is there', () => {
    for (const isMirrored of [false, true]) {
      const course = courseOf(board, isMirrored);
      const places = placesOf(course);
      const far = places.map((place) => course.far(place));
      expect(far).toEqual([...far].sort((a, b) => a - b));
      expect(new Set(far).size).toBe(far.length);
      expect(far.at(-1)).toBe(course.length);
      for (const place of places) {
        const keychain = course.at(place, freshKeychain('x'));
        if (place.stage !== 'finish') expect(placeText(course.placeOf(keychain))).toBe(placeText(place));
      }
    }
  });

  it('[R46] for the other hand what is tied at a place is the mirror image, and can be tied so far', () => {
    const [right, left] = [courseOf(board, false), courseOf(board, true)];
    const strings = board.pattern.colours.length;
    const options = { method: 'rows', covers: 'piece', firstHalf: 'right' } as const;
    const order = workOrder(mirrorBoard(board), options);
    if (!order.ok) throw new Error(order.error.message);
    const mirrored = new Map(order.steps.map((step) => [stepKey(step), step]));
    const kinds = { f: 'b', b: 'f', fb: 'bf', bf: 'fb' } as const;
    for (const place of placesOf(right)) {
      const tied = [...left.at(place, freshKeychain('x')).tied];
      const own = [...right.at(place, freshKeychain('x')).tied];
      expect(tied).toHaveLength(own.length);
      expect(looseKnots(order.steps, new Set(tied))).toEqual([]);
    }
    const all = [...left.at({ stage: 'tie', knot: null }, freshKeychain('x')).tied];
    for (const [at, step] of right.steps.entries()) {
      const other = mirrored.get(all[at]!)!;
      expect([other.row, other.place]).toEqual([step.row, strings - 2 - step.place]);
      // The rows that close a band lean one way on its middle line, in the mirror too.
      const isMiddle = step.part === 'end' && other.place === step.place;
      if (!isMiddle) expect(other.kind).toBe(kinds[step.kind]);
    }
    for (const [at, cord] of right.cords.entries()) {
      const other = left.cords[at]!;
      expect([other.colour, other.cutMm]).toEqual([cord.colour, cord.cutMm]);
      expect(other.left).toBe(strings - 1 - (cord.right ?? cord.left));
    }
  });

  it('[R62] a plan drafted from it has mounting, the first rows and the end, in the order of the way', () => {
    const course = courseOf(board, false);
    let made = 0;
    const plan = draftPlan(
      course,
      ({ why }) => why,
      () => `s${made++}`,
    );
    const far = plan.map(({ place }) => course.far(place));
    expect(far).toEqual([...far].sort((a, b) => a - b));
    expect(plan.map(({ note }) => note).slice(0, 4)).toEqual(['cut', 'mount', 'compare', 'row']);
    expect(plan.at(-1)?.note).toBe('end');
    expect(new Set(plan.map(({ id }) => id)).size).toBe(plan.length);
    expect(plan.length).toBeLessThanOrEqual(31);
  });
});

it('[R62] a stop is drafted where the strings turn, and nowhere else', () => {
  const read = parseBoard({
    format: 'larkboard',
    version: 1,
    title: '',
    palette: [{ id: 'a', name: '', hex: '#112233' }],
    strings: ['a', 'a', 'a', 'a'],
    rows: ['f f', 'f', 'f f', 'b', 'b b', 'b'],
    start: 0,
    piece: { repeats: 2 },
  });
  if (!read.ok) throw new Error(read.error.message);
  const course = courseOf(read.value, false);
  const plan = draftPlan(
    course,
    (reason) => `${reason.why} ${'row' in reason ? reason.row : ''}`.trim(),
    String,
  );
  expect(plan.map(({ note }) => note)).toEqual([
    'cut',
    'mount',
    'compare',
    'row 1',
    'row 2',
    'turn 4',
    'end',
  ]);
});
