/**
 * Lessons: each is kept like a board under an id of its own, with one document. Who teaches follows from the board it is given on, asked each
 * time; who learns is whom a teacher let in, by the cookie, and nobody else. Its link opens nothing but the door, and ends with the lesson.
 */
import { randomBytes } from 'node:crypto';
import * as Y from 'yjs';
import { canWrite, type Lesson, readLesson, type Role, type Told } from '../../engine/document/index.ts';
import { hashSecret, isSecretShaped, newSecret } from '../access/index.ts';
import { newBoardId } from '../boards/index.ts';
import { OneByOne } from '../one-by-one.ts';
import { type KeptRecord, type Store, StoreError } from '../store/index.ts';
import type { Rooms } from '../sync/index.ts';
import { tryEach } from '../try-each.ts';
import {
  ABOUT,
  isGoingOn,
  LEARNER,
  LESSON,
  LESSON_MS,
  type LearnerRecord,
  type LessonRecord,
  MAX_ENDED_LESSONS,
  MAX_LEARNERS,
  MAX_OPEN_LESSONS,
  MAX_TOLD,
  readLearner,
  readLessonRecord,
  writeLearner,
  writeLesson,
} from './lesson.ts';

export interface LessonsDeps {
  readonly store: Store;
  readonly rooms: Pick<Rooms, 'closeBoard' | 'hold'>;
  readonly now: () => number;
  /** What somebody may be on a board now; null where it is not there for them. */
  readonly roleOn: (personId: string, board: string) => Promise<Role | null>;
  /** Called with a lesson in which somebody's rights became less. */
  readonly narrow: (lesson: string) => void;
  /** Called with a lesson of which people, lock or state are others now. */
  readonly changed: (lesson: string) => void;
}

/** What somebody is in a lesson; `owner` and `co-maker` teach. */
export type LessonStanding =
  | { readonly as: 'teacher'; readonly role: Role }
  | { readonly as: 'learner'; readonly learner: LearnerRecord };

/** Why nobody new comes in. */
type DoorRefusal = 'locked' | 'full';

const NOTHING = new Uint8Array(0);

export class Lessons {
  readonly #deps: LessonsDeps;
  /** Of one lesson, or one board, one change is made at a time on this node; that the bounds hold among nodes sees the store to. */
  readonly #changing = new OneByOne();

  constructor(deps: LessonsDeps) {
    this.#deps = deps;
  }

  async find(id: string): Promise<LessonRecord | null> {
    const [about] = await this.#deps.store.records(id, ABOUT);
    return about === undefined ? null : readLessonRecord(id, about.about);
  }

  /** The lessons of a board, the latest first. */
  async list(board: string): Promise<readonly LessonRecord[]> {
    const found: LessonRecord[] = [];
    for (const { id } of await this.#deps.store.records(board, LESSON)) {
      const lesson = await this.find(id);
      // What an archive brought may name the lesson of another board.
      if (lesson?.board === board) found.push(lesson);
    }
    return found.sort((a, b) => b.openedAt - a.openedAt || (a.id < b.id ? -1 : 1));
  }

  /** Opens a lesson about a state of a board. @returns with the secret of its link, the only time it can be read */
  open(
    board: string,
    title: string,
    file: Uint8Array,
  ): Promise<{ readonly lesson: LessonRecord; readonly secret: string } | 'too-many'> {
    return this.#changing.run(board, () => this.#open(board, title, file));
  }

  async #open(
    board: string,
    title: string,
    file: Uint8Array,
  ): Promise<{ readonly lesson: LessonRecord; readonly secret: string } | 'too-many'> {
    const { store, now } = this.#deps;
    const [openedAt, secret] = [now(), newSecret()];
    const lesson: LessonRecord = {
      id: newBoardId(),
      board,
      title,
      openedAt,
      endsAt: openedAt + LESSON_MS,
      endedAt: null,
      isLocked: false,
      secretHash: hashSecret(secret),
      state: 1,
      rosterUntil: 0,
    };
    const { id } = lesson;
    for (;;) {
      const there = await store.records(board, LESSON);
      const open = (await this.list(board)).filter((one) => isGoingOn(one, openedAt));
      if (open.length >= MAX_OPEN_LESSONS) return 'too-many';
      const about = { kind: ABOUT, id: ABOUT, about: writeLesson(lesson), bytes: file };
      // The lesson first: a record of one that is not there would show what nobody can open.
      await store.addBoard({ id, kind: 'lesson', createdAt: openedAt }, [], [about]);
      const record = { board, kind: LESSON, id, about: '{}', bytes: NOTHING };
      if (await store.putRecord(record, null, there)) break;
      await store.removeBoard(id);
    }
    await this.#forgetOldest(board);
    return { lesson, secret };
  }

  /** The board file that a lesson is about. */
  async file(id: string): Promise<Uint8Array | null> {
    return (await this.#deps.store.record(id, ABOUT, ABOUT))?.bytes ?? null;
  }

  /** The plan of a lesson, with what was drawn and kept at its stops. */
  async plan(id: string): Promise<Pick<Lesson, 'stops' | 'drawings'>> {
    const hold = await this.#deps.rooms.hold({ board: id, part: 'lesson' });
    const doc = new Y.Doc();
    try {
      Y.applyUpdate(doc, hold.room.encodedState());
      const { stops, drawings } = readLesson(doc);
      return { stops, drawings };
    } finally {
      hold.release();
      doc.destroy();
    }
  }

  /** What somebody is in a lesson now; null where it is not there for them. */
  async standing(lesson: LessonRecord, personId: string | null): Promise<LessonStanding | null> {
    if (personId === null || personId === '') return null;
    const role = await this.#deps.roleOn(personId, lesson.board);
    if (role !== null && canWrite(role, 'lesson')) return { as: 'teacher', role };
    const learner = await this.learner(lesson.id, personId);
    return learner === null ? null : { as: 'learner', learner };
  }

  async learner(id: string, personId: string): Promise<LearnerRecord | null> {
    const record = await this.#deps.store.record(id, LEARNER, personId);
    return record === null ? null : readLearner(personId, record.about);
  }

  /** Everybody who came to the door. */
  async learners(id: string): Promise<readonly LearnerRecord[]> {
    const records = await this.#deps.store.records(id, LEARNER);
    return records.map((record) => readLearner(record.id, record.about));
  }

  /** Whether a secret is that of the link now. */
  isLink({ secretHash }: LessonRecord, secret: unknown): boolean {
    return isSecretShaped(secret) && hashSecret(secret) === secretHash;
  }

  /** Somebody with the link stands before the door, under the name that they typed. */
  knock(lesson: LessonRecord, person: string, name: string): Promise<LearnerRecord | DoorRefusal> {
    return this.#changing.run(lesson.id, async () => {
      const { id, isLocked } = lesson;
      const all = await this.learners(id);
      const before = all.find((one) => one.person === person);
      if (before === undefined && isLocked) return 'locked';
      if (before === undefined && all.length >= MAX_LEARNERS) return 'full';
      // Who is in is called as the teacher has known her since.
      if (before !== undefined && (before.state !== 'waiting' || before.name === name)) return before;
      const learner: LearnerRecord = {
        person,
        name,
        state: 'waiting',
        cameAt: before?.cameAt ?? this.#deps.now(),
        told: [],
      };
      await this.#put(id, learner);
      this.#deps.changed(id);
      return learner;
    });
  }

  /** Lets people in, or puts them out; null = all who wait. @returns how many that were */
  move(id: string, people: readonly string[] | null, state: 'in' | 'out'): Promise<number> {
    return this.#changing.run(id, async () => {
      let moved = 0;
      for (const learner of await this.learners(id)) {
        const isMeant = people === null ? learner.state === 'waiting' : people.includes(learner.person);
        if (!isMeant || learner.state === state) continue;
        await this.#put(id, { ...learner, state });
        moved += 1;
      }
      if (moved > 0) this.#deps.changed(id);
      if (moved > 0 && state === 'out') this.#deps.narrow(id);
      return moved;
    });
  }

  /** Keeps what a teacher told a learner. @returns false where there is none such who is in */
  tell(id: string, person: string, told: Told): Promise<boolean> {
    return this.#changing.run(id, async () => {
      const learner = await this.learner(id, person);
      if (learner?.state !== 'in') return false;
      await this.#put(id, { ...learner, told: [...learner.told, told].slice(-MAX_TOLD) });
      this.#deps.changed(id);
      return true;
    });
  }

  async #put(board: string, learner: LearnerRecord): Promise<void> {
    const { person } = learner;
    const record = { board, kind: LEARNER, id: person, about: writeLearner(learner), bytes: NOTHING };
    await this.#deps.store.putRecord(record);
  }

  async lock(id: string, isLocked: boolean): Promise<void> {
    await this.#change(id, () => ({ isLocked }));
  }

  /** A new link in place of the one before, which opens nothing from then on. @returns its secret */
  async newLink(id: string): Promise<string> {
    const secret = newSecret();
    await this.#change(id, () => ({ secretHash: hashSecret(secret) }));
    return secret;
  }

  /** The lesson is about another state of its board from now on. */
  async takeState(id: string, file: Uint8Array): Promise<void> {
    await this.#change(id, ({ state }) => ({ state: state + 1 }), file);
  }

  /** Ends it: the link and everybody's rights go at once, the roster too, or after so many ms. */
  async end(id: string, rosterMs: number): Promise<void> {
    const now = this.#deps.now();
    // The hash of a secret that nobody has.
    const secretHash = randomBytes(32).toString('hex');
    await this.#change(id, ({ endedAt }) => ({
      endedAt: endedAt ?? now,
      isLocked: true,
      secretHash,
      rosterUntil: now + rosterMs,
    }));
    this.#deps.narrow(id);
    if (rosterMs <= 0) await this.#forgetRoster(id);
  }

  async #forgetRoster(id: string): Promise<void> {
    const { store } = this.#deps;
    for (const { id: person } of await store.records(id, LEARNER))
      await store.removeRecord(id, LEARNER, person);
  }

  #change(
    id: string,
    change: (lesson: LessonRecord) => Partial<LessonRecord>,
    file: Uint8Array | null = null,
  ): Promise<void> {
    return this.#changing.run(id, async () => {
      const { store } = this.#deps;
      // Another node may change it too: then it is looked at anew.
      for (;;) {
        const record: KeptRecord | null = await store.record(id, ABOUT, ABOUT);
        if (record === null) throw new StoreError('unknown-board', `there is no lesson ${id}`);
        const lesson = readLessonRecord(id, record.about);
        const about = writeLesson({ ...lesson, ...change(lesson) });
        if (await store.putRecord({ ...record, about, bytes: file ?? record.bytes }, record.about)) break;
      }
      this.#deps.changed(id);
    });
  }

  async #forgetOldest(board: string): Promise<void> {
    const { now } = this.#deps;
    const over = (await this.list(board)).filter((one) => !isGoingOn(one, now())).slice(MAX_ENDED_LESSONS);
    for (const { id } of over) await this.#remove(id, board);
  }

  async #remove(id: string, board: string): Promise<void> {
    const { store, rooms } = this.#deps;
    await store.removeBoard(id);
    rooms.closeBoard(id);
    if ((await store.board(board)) !== null) await store.removeRecord(board, LESSON, id);
  }

  /** Everybody in the lessons of a board is asked for anew; those of a board that is gone go too. */
  async narrowLessons(board: string): Promise<void> {
    const { store, narrow } = this.#deps;
    if ((await store.board(board)) === null) await this.sweep(board);
    else for (const { id } of await store.records(board, LESSON)) narrow(id);
  }

  /**
   * Ends lessons whose time is up, forgets rosters whose time is, and removes lessons whose board is gone: of one board, or all there are.
   * Rejects where one could not be, once all were tried. @returns how many were touched
   */
  async sweep(of: string | null = null): Promise<number> {
    const { store, now } = this.#deps;
    return tryEach(await store.boardsOfKind('lesson'), async ({ id }) => {
      const lesson = await this.find(id);
      if (lesson === null || (of !== null && lesson.board !== of)) return false;
      if ((await store.board(lesson.board)) === null) {
        await this.#remove(id, lesson.board);
        return true;
      }
      if (lesson.endedAt === null && lesson.endsAt <= now()) {
        await this.end(id, 0);
        return true;
      }
      const isOver = lesson.endedAt !== null && lesson.rosterUntil <= now();
      if (!isOver || (await store.records(id, LEARNER)).length === 0) return false;
      await this.#forgetRoster(id);
      return true;
    });
  }
}
