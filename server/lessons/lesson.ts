/** What is kept of a lesson beside its document, and of the people in it. */
import type { Told } from '../../engine/document/index.ts';
import { StoreError } from '../store/index.ts';

/** Kind of the record that a board has of each lesson given on it; its id is that of the lesson. */
export const LESSON = 'lesson';
/** Kind and id of the one record in which a lesson says what it is; its bytes are the board file that it is about. */
export const ABOUT = 'of';
/** Kind of the record of somebody who came to its door; its id is the person's. */
export const LEARNER = 'learner';

/** A lesson. Times are ms since 1970 (UTC). */
export interface LessonRecord {
  readonly id: string;
  /** The board that it is given on; who may write there teaches. */
  readonly board: string;
  readonly title: string;
  readonly openedAt: number;
  /** When it ends by itself, if nobody ends it. */
  readonly endsAt: number;
  /** Null while it goes on. */
  readonly endedAt: number | null;
  /** Whether nobody new comes to the door. */
  readonly isLocked: boolean;
  /** SHA-256 of the link's secret, hex. */
  readonly secretHash: string;
  /** Counts the states of the board that the lesson was about; from 1. */
  readonly state: number;
  /** Until when the roster stays after the end. */
  readonly rosterUntil: number;
}

/** `waiting` before the door; `in`; `out`: removed for this lesson. */
type LearnerState = 'waiting' | 'in' | 'out';

/** Somebody who came to the door of a lesson. */
export interface LearnerRecord {
  readonly person: string;
  /** As they typed it. */
  readonly name: string;
  readonly state: LearnerState;
  readonly cameAt: number;
  /** What teachers told her. */
  readonly told: readonly Told[];
}

/** Lessons of a board that go on at once. */
export const MAX_OPEN_LESSONS = 8;
/** Lessons that have ended and are remembered; older ones go. */
export const MAX_ENDED_LESSONS = 40;
/** People at the door and in a lesson, those removed included. */
export const MAX_LEARNERS = 120;
/** What one learner was told that is kept; the oldest goes. */
export const MAX_TOLD = 20;
/** So long a lesson goes on that nobody ends. */
export const LESSON_MS = 24 * 60 * 60 * 1000;
/** So long at most the roster stays after it. */
export const MAX_ROSTER_DAYS = 30;

/** Whether a lesson goes on. */
export function isGoingOn({ endedAt, endsAt }: LessonRecord, now: number): boolean {
  return endedAt === null && endsAt > now;
}

/** The text of its record. */
export function writeLesson({ id: _id, ...about }: LessonRecord): string {
  return JSON.stringify(about);
}

/** @throws StoreError 'damaged' when it is none that was written */
export function readLessonRecord(id: string, about: string): LessonRecord {
  return { ...(readAbout(id, about) as Omit<LessonRecord, 'id'>), id };
}

/** The text of the record of a learner. */
export function writeLearner({ person: _person, ...about }: LearnerRecord): string {
  return JSON.stringify(about);
}

/** @throws StoreError 'damaged' when it is none that was written */
export function readLearner(person: string, about: string): LearnerRecord {
  return { ...(readAbout(person, about) as Omit<LearnerRecord, 'person'>), person };
}

function readAbout(id: string, about: string): unknown {
  try {
    return JSON.parse(about);
  } catch (cause) {
    throw new StoreError('damaged', `the record ${id} of a lesson cannot be read`, { cause });
  }
}
