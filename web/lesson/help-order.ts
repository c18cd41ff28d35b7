/** Who needs help, and who is through a stop. Plain data in, plain data out. */
import { type LearnerEntry, type LessonPlace, readPlace } from '../../engine/document/index.ts';
import type { Course } from './course.ts';

/** Whoever was not heard of for so long gives no sign; nobody says that they are stuck. */
const NO_SIGN_MS = 4 * 60_000;
/** Of whom something was heard in so long is counted where all are waited for. */
const THERE_MS = 2 * 60_000;

/** What a learner's line says first. */
export type Need = 'stuck' | 'hand' | 'no-sign' | 'done' | 'ready' | null;

/** What she needs, by what she said and when she was heard of. Rule R52. */
export function needOf({ says, seenAt }: LearnerEntry, now: number): Need {
  if (says === 'stuck' || says === 'hand') return says;
  if (now - seenAt >= NO_SIGN_MS) return 'no-sign';
  return says;
}

const RANK: readonly Need[] = ['stuck', 'hand', 'no-sign', null, 'done', 'ready'];

/** Those who are in, by who needs help first and longest, then by how far they are, then by name. Rule R52. */
export function byNeed(
  people: readonly LearnerEntry[],
  course: Course,
  now: number,
): readonly LearnerEntry[] {
  const far = ({ place }: LearnerEntry): number => farOf(place, course);
  return people
    .filter(({ state }) => state === 'in')
    .sort(
      (a, b) =>
        RANK.indexOf(needOf(a, now)) - RANK.indexOf(needOf(b, now)) ||
        (needOf(a, now) === null ? 0 : a.saidAt - b.saidAt) ||
        far(a) - far(b) ||
        (a.name < b.name ? -1 : 1),
    );
}

/** How far a place that was sent is; -1 where none was. */
export function farOf(text: string | null, course: Course): number {
  const place = readPlace(text);
  return place === null ? -1 : course.far(place);
}

/** How many of those who are there are at a place or past it. Rule R53. */
export function throughCount(
  people: readonly LearnerEntry[],
  place: LessonPlace,
  course: Course,
  now: number,
): { readonly through: number; readonly there: number } {
  const there = people.filter(({ state, seenAt }) => state === 'in' && now - seenAt < THERE_MS);
  const far = course.far(place);
  return { through: there.filter((one) => farOf(one.place, course) >= far).length, there: there.length };
}
