export { authorizeLessons } from './authorize-lessons.ts';
export { LESSON } from './lesson.ts';
export { boardLessonsRoutes, lessonRoutes } from './lesson-routes.ts';
export { Lessons } from './lessons.ts';
export { LiveLessons } from './live-lessons.ts';
