/** Stops of a plan on the way through a lesson. */
import type { Lesson, LessonPlace, Stop } from '../../engine/document/index.ts';
import type { Course } from './course.ts';

/** In the order in which one comes to them, whenever they were written. */
export function plannedStops({ stops }: Pick<Lesson, 'stops'>, course: Course): readonly Stop[] {
  return [...stops].sort((a, b) => course.far(a.place) - course.far(b.place));
}

/** The stop at which a place is: the last one that is not behind it. */
export function stopAt(lesson: Pick<Lesson, 'stops'>, place: LessonPlace, course: Course): Stop | undefined {
  const far = course.far(place);
  return plannedStops(lesson, course)
    .filter((stop) => course.far(stop.place) <= far)
    .at(-1);
}
