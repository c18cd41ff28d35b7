/** One page's place in a lesson: the line comes back as soon as the page is seen, and what it says of itself goes out paced. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { writeTeachersPlace } from '../../../engine/document/index.ts';
import { LessonSession } from '../../../web/sync/lesson-session.ts';
import { MemoryRooms } from '../../support/memory-rooms.ts';

let rooms: MemoryRooms;
let session: LessonSession;

/** What is due now comes, and nothing that waits. */
const turn = () => vi.advanceTimersByTimeAsync(0);

beforeEach(() => {
  // Nothing comes by waiting: what is there was brought about at once.
  vi.useFakeTimers();
  rooms = new MemoryRooms();
  session = new LessonSession({
    lesson: 'dusk',
    isTeacher: false,
    server: 'ws://lessons.example',
    socket: rooms.socketClass,
    onChange: () => {},
    onLook: () => {},
    onBoard: () => {},
  });
});

afterEach(() => {
  session.end();
  vi.useRealTimers();
});

it('[R48] a line that broke behind a call is back as soon as the page is seen, at the teacher’s step', async () => {
  const room = rooms.room('dusk/lesson');
  await turn();
  expect(session.isConnected).toBe(true);
  writeTeachersPlace(room.doc, { stage: 'cut', done: 1 });
  await turn();
  expect(session.lesson.place).toEqual({ stage: 'cut', done: 1 });
  rooms.cut();
  await turn();
  writeTeachersPlace(room.doc, { stage: 'mount', done: 2 });
  rooms.isDown = false;
  await turn();
  // By itself it would come back after a pause, which is not over.
  expect([session.isConnected, session.lesson.place]).toEqual([false, { stage: 'cut', done: 1 }]);
  session.wake();
  await turn();
  expect([session.isConnected, session.lesson.place]).toEqual([true, { stage: 'mount', done: 2 }]);
  // Where the line stands it is left alone.
  const { visits } = room;
  session.wake();
  await turn();
  expect(room.visits).toBe(visits);
});
