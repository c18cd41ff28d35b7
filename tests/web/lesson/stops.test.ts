/** At which stop of the plan a place is. */
import { expect, it } from 'vitest';
import type { LessonPlace, Stop } from '../../../engine/document/index.ts';
import type { Course } from '../../../web/lesson/course.ts';
import { plannedStops, stopAt } from '../../../web/lesson/stops.ts';

const course = {
  far: (place: LessonPlace) =>
    place.stage === 'mount' ? 100 + place.done : place.stage === 'cut' ? place.done : 1_000,
} as Course;
const stop = (id: string, place: LessonPlace): Stop => ({ id, place, note: id, waits: false, minutes: null });

it('[R60] the last stop that is not ahead, in whatever order the stops were written', () => {
  const lesson = {
    stops: [
      stop('mount', { stage: 'mount', done: 0 }),
      stop('late', { stage: 'mount', done: 4 }),
      stop('cut', { stage: 'cut', done: 2 }),
    ],
  };
  expect(plannedStops(lesson, course).map(({ id }) => id)).toEqual(['cut', 'mount', 'late']);
  const at = (place: LessonPlace): string | undefined => stopAt(lesson, place, course)?.id;
  expect(at({ stage: 'cut', done: 1 })).toBeUndefined();
  expect(at({ stage: 'cut', done: 2 })).toBe('cut');
  expect(at({ stage: 'mount', done: 3 })).toBe('mount');
  expect(at({ stage: 'tie', knot: null })).toBe('late');
});
