export {
  MAX_LESSON_ID,
  MAX_STOP_CHARACTERS,
  MAX_STROKE_NUMBERS,
} from './lesson.ts';
export {
  isSaidBy,
  type LearnerEntry,
  type LearnerSays,
  type LessonNews,
  type LessonSaying,
  readSaying,
  type Told,
} from './messages.ts';
export { MAX_PLACE_CHARACTERS } from './place.ts';
