/** Who needs help first, and who is through a stop. */
import { describe, expect, it } from 'vitest';
import type { LearnerEntry, LessonPlace } from '../../../engine/document/index.ts';
import type { Course } from '../../../web/lesson/course.ts';
import { byNeed, needOf, throughCount } from '../../../web/lesson/help-order.ts';

const NOW = 1_000_000_000;
const course = {
  far: (place: LessonPlace) => (place.stage === 'tie' ? 100 : place.done),
} as Course;

const entry = (name: string, of: Partial<LearnerEntry> = {}): LearnerEntry => ({
  person: name,
  name,
  state: 'in',
  place: 'cut 1',
  says: null,
  saidAt: 0,
  seenAt: NOW,
  colours: [],
  told: [],
  ...of,
});

describe('the roster', () => {
  it('[R52] has first who said they are stuck, the longest first, then hands, then who gives no sign', () => {
    const people = [
      entry('Ada', { place: 'cut 4' }),
      entry('Bo', { says: 'done', saidAt: NOW - 10 }),
      entry('Cy', { seenAt: NOW - 5 * 60_000 }),
      entry('Di', { says: 'hand', saidAt: NOW - 1_000 }),
      entry('Ed', { says: 'stuck', saidAt: NOW - 1_000 }),
      entry('Fay', { says: 'stuck', saidAt: NOW - 90_000 }),
      entry('Gus', { place: 'cut 2' }),
      entry('Hal', { state: 'waiting' }),
      entry('Ivy', { state: 'out', says: 'stuck' }),
    ];
    expect(byNeed(people, course, NOW).map(({ name }) => name)).toEqual([
      'Fay',
      'Ed',
      'Di',
      'Cy',
      'Gus',
      'Ada',
      'Bo',
    ]);
  });

  it('[R52] silence is no sign, never stuck; what was said stays said', () => {
    expect(needOf(entry('Ada', { seenAt: NOW - 4 * 60_000 }), NOW)).toBe('no-sign');
    expect(needOf(entry('Ada', { seenAt: NOW - 4 * 60_000 + 1 }), NOW)).toBeNull();
    expect(needOf(entry('Ada', { seenAt: 0, says: 'stuck' }), NOW)).toBe('stuck');
  });

  it('[R53] of a stop those are counted who were heard of in the last two minutes', () => {
    const people = [
      entry('Ada', { place: 'cut 3' }),
      entry('Bo', { place: 'cut 2' }),
      entry('Cy', { place: 'tie', seenAt: NOW - 3 * 60_000 }),
      entry('Di', { place: null }),
      entry('Ed', { place: 'cut 5', state: 'out' }),
    ];
    expect(throughCount(people, { stage: 'cut', done: 3 }, course, NOW)).toEqual({ through: 1, there: 3 });
  });
});
