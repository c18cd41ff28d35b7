/** Places of a lesson in words. Needs the texts of the groups `lesson` and `table`. */
import type { LessonPlace } from '../../engine/document/index.ts';
import { t } from '../text/index.ts';
import type { Course } from './course.ts';

/** Where somebody is: `Mount: cord 3`, `Row 4`. */
export function sayPlace(place: LessonPlace, course: Course): string {
  switch (place.stage) {
    case 'cut':
      return place.done >= course.cords.length
        ? t('lesson.at.cutAll')
        : t('lesson.at.cut', { turn: place.done + 1 });
    case 'mount':
      return sayMove(place.done, course);
    case 'tie': {
      const step = course.stepAt(place);
      if (step === undefined) return t('lesson.at.tied');
      const { part, repeat, partRow } = step;
      const row = partRow + 1;
      if (part === 'band') return t(repeat > 1 ? 'lesson.at.repeat' : 'lesson.at.row', { row, repeat });
      return t(part === 'end' ? 'lesson.at.end' : 'lesson.at.leadIn', { row });
    }
    case 'finish':
      return t('lesson.at.finish');
    default:
      throw new TypeError(`unknown stage ${JSON.stringify(place satisfies never)}`);
  }
}

function sayMove(done: number, { moves }: Course): string {
  const move = moves[done];
  if (move === undefined) return t('lesson.at.hangs');
  if (move.kind === 'cord') return t('lesson.at.mount', { turn: move.turn });
  if (move.kind === 'fix' || move.kind === 'pull' || move.kind === 'compare')
    return t(`lesson.at.${move.kind}`);
  return t('lesson.at.move', { turn: done + 1 });
}
