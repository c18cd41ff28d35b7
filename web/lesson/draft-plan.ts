/** A plan drafted from the board: mounting, the first rows, each row in which the strings turn, the end. */
import type { LessonPlace, Stop } from '../../engine/document/index.ts';
import type { WorkStep } from '../../engine/index.ts';
import type { Course } from './course.ts';

/** What a stop is for; the page says it as its note. */
export type StopReason =
  | { readonly why: 'cut' | 'mount' | 'compare' | 'end' }
  | { readonly why: 'row' | 'turn'; readonly row: number };

/** Rows that everybody ties together before they go on by themselves. */
const FIRST_ROWS = 2;
/** More stops than this are no plan. */
const MOST_STOPS = 30;

/**
 * The stops of a course, each with why it is one.
 * @param newId ids of stops
 * O(knots). Rule R62.
 */
export function draftPlan(
  course: Course,
  say: (reason: StopReason) => string,
  newId: () => string,
): readonly Stop[] {
  const stops: Stop[] = [];
  const add = (place: LessonPlace, reason: StopReason, waits: boolean): void => {
    stops.push({ id: newId(), place, note: say(reason), waits, minutes: null });
  };
  add({ stage: 'cut', done: 0 }, { why: 'cut' }, false);
  add({ stage: 'mount', done: 0 }, { why: 'mount' }, true);
  add({ stage: 'mount', done: course.moves.length - 1 }, { why: 'compare' }, true);
  for (const { first, turns, index } of rowsOf(course.steps)) {
    const knot = course.nameOf(first);
    if (knot === undefined || stops.length >= MOST_STOPS) continue;
    const row = index + 1;
    if (index < FIRST_ROWS) add({ stage: 'tie', knot }, { why: 'row', row }, true);
    else if (turns) add({ stage: 'tie', knot }, { why: 'turn', row }, false);
  }
  add({ stage: 'finish', done: 0 }, { why: 'end' }, true);
  return stops;
}

interface DraftedRow {
  /** Number of its first step. */
  readonly first: number;
  readonly index: number;
  /** Whether more of its knots turn round than in the row before, or its slope is another. */
  readonly turns: boolean;
}

/** The rows up to the end of the first repeat, as they are tied. */
function rowsOf(steps: readonly WorkStep[]): readonly DraftedRow[] {
  const rows: { first: number; readonly steps: WorkStep[] }[] = [];
  for (const [at, step] of steps.entries()) {
    if (step.repeat > 1 || step.part === 'end') break;
    const last = rows.at(-1);
    if (last === undefined || last.steps[0]!.row !== step.row) rows.push({ first: at, steps: [step] });
    else last.steps.push(step);
  }
  let slope = 0;
  return rows.map(({ first, steps: own }, index) => {
    const middle = own.reduce((sum, { place }) => sum + place, 0) / own.length;
    // In a symmetric band the halves lean towards each other: one of them tells.
    const half = own.filter(({ place }) => place <= middle);
    const now = Math.sign(
      half.reduce((sum, { kind }) => sum + (kind === 'f' ? 1 : kind === 'b' ? -1 : 0), 0),
    );
    const turns = now !== 0 && slope !== 0 && now !== slope;
    if (now !== 0) slope = now;
    return { first, index, turns };
  });
}
