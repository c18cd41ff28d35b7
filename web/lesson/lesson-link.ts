/** The learners' link of a lesson, as long as the tab that made it is there: the server keeps only a hash of its secret. */
import { newLessonLink } from './lesson-api.ts';

const keyOf = (lesson: string): string => `larkboard.lesson-link.${lesson}`;

export function keepLink(lesson: string, secret: string): void {
  sessionStorage.setItem(keyOf(lesson), secret);
}

/** The address to give out; null where this tab does not know it. The secret stands in the fragment, which browsers send to nobody. */
export function knownLink(origin: string, boardId: string, lesson: string): string | null {
  const secret = sessionStorage.getItem(keyOf(lesson));
  return secret === null ? null : `${origin}/board/${boardId}/lesson?of=${lesson}#${secret}`;
}

/** Another link in place of the one before, which opens nothing any more. */
export async function makeLink(lesson: string): Promise<void> {
  keepLink(lesson, await newLessonLink(lesson));
}
