/** Who may open the document of a lesson: its teachers and whom they let in, while it goes on. Everything else is asked for as before. */
import { parse } from 'hono/utils/cookie';
import { canRead, canWrite } from '../../engine/document/index.ts';
import { type Access, SESSION_COOKIE } from '../access/index.ts';
import type { Authorize } from '../authorize.ts';
import { isGoingOn } from './lesson.ts';
import type { Lessons } from './lessons.ts';

const UNKNOWN = { denied: 'unknownBoard', message: 'no such lesson' } as const;
const OVER = { denied: 'revoked', message: 'the lesson has ended, or its teacher has put you out' } as const;

/** @param others who may open the documents of boards */
export function authorizeLessons(
  access: Access,
  lessons: Lessons,
  now: () => number,
  others: Authorize,
): Authorize {
  return async (asker, record, part) => {
    if (record.kind !== 'lesson') return part === 'lesson' ? UNKNOWN : others(asker, record, part);
    if (part !== 'lesson') return UNKNOWN;
    const cookie = asker.headers.cookie ?? '';
    const personId = await access.personOf(parse(cookie, SESSION_COOKIE)[SESSION_COOKIE]);
    const lesson = personId === null ? null : await lessons.find(record.id);
    if (lesson === null || personId === null) return UNKNOWN;
    const standing = await lessons.standing(lesson, personId);
    if (standing === null) return UNKNOWN;
    const isWaiting = standing.as === 'learner' && standing.learner.state === 'waiting';
    if (isWaiting) return { denied: 'forbidden', message: 'wait until the teacher lets you in' };
    const isOut = standing.as === 'learner' && standing.learner.state === 'out';
    if (isOut || !isGoingOn(lesson, now())) return OVER;
    const role = standing.as === 'teacher' ? standing.role : 'learner';
    if (!canRead(role, part)) return UNKNOWN;
    return {
      role,
      canWrite: canWrite(role, part),
      personId,
      isAdmitted: true,
      isNew: access.isNew(personId),
      endsAt: lesson.endsAt,
    };
  };
}
