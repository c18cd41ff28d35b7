/** Lessons over HTTP. All reject with {@link ApiError}; kind `unknown-board` where a lesson is not there for whoever asks. */
import type { Lesson } from '../../engine/document/index.ts';
import { ask, post } from '../sync/index.ts';

/** A lesson as its teachers see it. Times in ms since 1970. */
export interface LessonAbout {
  readonly id: string;
  readonly board: string;
  readonly title: string;
  readonly openedAt: number;
  readonly endedAt: number | null;
  readonly isLocked: boolean;
  /** Counts the states of the board that it was about. */
  readonly state: number;
}

/** What the lesson is to whoever asks. */
export type LessonSight =
  | ({ readonly as: 'teacher' } & LessonAbout)
  | {
      readonly as: 'waiting' | 'in' | 'out';
      readonly name: string;
      readonly title: string;
      readonly state: number;
    };

const at = (lesson: string): string => `/api/lessons/${encodeURIComponent(lesson)}`;
const onBoard = (board: string): string => `/api/boards/${encodeURIComponent(board)}/lessons`;

export function fetchLessons(board: string): Promise<readonly LessonAbout[]> {
  return ask(onBoard(board));
}

/** The secret of its link is in this answer and never again. */
/** @param version whose state it is about; null = as it stands now */
export function openLesson(
  board: string,
  version: string | null,
): Promise<LessonAbout & { readonly secret: string }> {
  return post(onBoard(board), { version });
}

/** A lesson of the board that has ended, for whoever may look at the board. */
export interface PastLesson {
  readonly id: string;
  readonly title: string;
  readonly openedAt: number;
}

/** Its plan, what was kept at its stops, and the board that it was about, as a file. */
export interface LessonWalk extends PastLesson, Pick<Lesson, 'stops' | 'drawings'> {
  readonly file: unknown;
}

export function fetchPastLessons(board: string): Promise<readonly PastLesson[]> {
  return ask(`${onBoard(board)}/past`);
}

export function fetchWalk(board: string, lesson: string): Promise<LessonWalk> {
  return ask(`${onBoard(board)}/past/${encodeURIComponent(lesson)}`);
}

export function fetchLesson(lesson: string): Promise<LessonSight> {
  return ask(at(lesson));
}

export function enterLesson(lesson: string, secret: string, name: string): Promise<{ readonly as: string }> {
  return post(`${at(lesson)}/enter`, { secret, name });
}

/** The board file that it is about. */
export function fetchLessonBoard(lesson: string): Promise<unknown> {
  return ask(`${at(lesson)}/board`);
}

/** The lesson is about another state of the board from now on. @param version null = as it stands now */
export async function takeBoard(lesson: string, version: string | null): Promise<void> {
  await ask(`${at(lesson)}/board`, json('PUT', { version }));
}

/** A link in place of the one before. */
export async function newLessonLink(lesson: string): Promise<string> {
  return (await post<{ readonly secret: string }>(`${at(lesson)}/link`, {})).secret;
}

/** @param people null = all who wait */
export async function movePeople(
  lesson: string,
  people: readonly string[] | null,
  to: 'in' | 'out',
): Promise<void> {
  await post(`${at(lesson)}/people`, { people, to });
}

export async function lockLesson(lesson: string, isLocked: boolean): Promise<void> {
  await ask(at(lesson), json('PATCH', { isLocked }));
}

/** @param keepDays how long it is remembered who was there */
export async function endLesson(lesson: string, keepDays: number): Promise<void> {
  await post(`${at(lesson)}/end`, { keepDays });
}

function json(method: string, body: unknown): RequestInit {
  return { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
}
