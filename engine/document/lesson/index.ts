export {
  dropDrawings,
  keepDrawing,
  type Lesson,
  MAX_LESSON_ID,
  MAX_STOP_CHARACTERS,
  MAX_STROKE_NUMBERS,
  readLesson,
  removeStop,
  type Stop,
  takeLead,
  writePlan,
  writeStop,
  writeTeachersPlace,
} from './lesson.ts';
export {
  isSaidBy,
  type LearnerEntry,
  type LearnerSays,
  type LessonNews,
  type LessonSaying,
  MAX_TOLD_CHARACTERS,
  readNews,
  readSaying,
  type Told,
} from './messages.ts';
export { type LessonPlace, MAX_PLACE_CHARACTERS, placeText, readPlace } from './place.ts';
