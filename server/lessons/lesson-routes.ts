/**
 * HTTP of lessons: under `/api/boards/:id/lessons` those of a board, for who teaches there; under `/api/lessons/:id` one of them. Every request is
 * asked for anew, by its cookie. A learner's answers name nobody but herself.
 */
import { type Context, Hono } from 'hono';
import { canWrite, LIMITS, type PlainProblemKind } from '../../engine/document/index.ts';
import { plainText } from '../../engine/index.ts';
import { type Access, ensurePerson, GuessLimiter, NEWCOMERS, personOfRequest } from '../access/index.ts';
import type { Boards } from '../boards/index.ts';
import { type Admit, HttpProblem, limitBody, noteStored, readFields } from '../http/index.ts';
import type { Versions } from '../versions/index.ts';
import { isGoingOn, type LessonRecord, MAX_OPEN_LESSONS, MAX_ROSTER_DAYS } from './lesson.ts';
import type { Lessons, LessonStanding } from './lessons.ts';

export interface LessonRoutesDeps {
  readonly lessons: Lessons;
  readonly access: Access;
  readonly boards: Pick<Boards, 'file' | 'fileOf' | 'summary'>;
  readonly versions: Pick<Versions, 'state'>;
  readonly admit: Admit;
  readonly now: () => number;
  readonly addressOf: (c: Context) => string;
  readonly isSecure: (c: Context) => boolean;
}

/** A secret and a name, or the ids of all who wait. */
const BODY_BYTES = 16_384;
const DAY_MS = 24 * 60 * 60 * 1000;
const ID = /^[A-Za-z0-9_-]{1,64}$/;

function problem(
  status: 403 | 404 | 409 | 422,
  kind: PlainProblemKind,
  message: string,
  path?: string,
): never {
  throw new HttpProblem(status, { kind, message, ...(path === undefined ? {} : { path }) });
}

const unknown = (): never =>
  problem(404, 'unknown-board', 'no such lesson, or it is not there for you', 'id');

/** What its teachers see of a lesson. */
function show({ id, board, title, openedAt, endsAt, endedAt, isLocked, state }: LessonRecord): object {
  return { id, board, title, openedAt, endsAt, endedAt, isLocked, state };
}

/** The name somebody typed, as one line of plain text. */
function nameOf(value: unknown): string {
  const name = typeof value === 'string' ? value.trim() : '';
  const isName = name !== '' && name.length <= LIMITS.nameCharacters && plainText(name) === name;
  if (isName && !/\p{Cc}/u.test(name)) return name;
  const values = { most: LIMITS.nameCharacters };
  throw new HttpProblem(422, {
    kind: 'bad-name',
    path: 'name',
    message: 'name must be one line of text',
    values,
  });
}

/** The lessons of a board. Mount under `/api/boards/:id/lessons`. */
export function boardLessonsRoutes(deps: LessonRoutesDeps): Hono {
  const app = new Hono();
  const { lessons, boards } = deps;

  const mustTeach = async (c: Context): Promise<Parameters<Boards['summary']>[0]> => {
    const { record, pass } = await deps.admit(c, 'design');
    if (record.kind !== 'board') problem(409, 'branch', 'lessons are given on boards');
    if (!canWrite(pass.role, 'lesson')) problem(403, 'forbidden', 'only owners and co-makers teach');
    return record;
  };

  app.get('/', async (c) => {
    const { id } = await mustTeach(c);
    return c.json((await lessons.list(id)).map(show));
  });

  /** Whoever may look at the board walks through what was planned on it; of who was there it says nothing. */
  const mustRead = async (c: Context): Promise<string> => {
    const { record } = await deps.admit(c, 'design');
    if (record.kind !== 'board') problem(409, 'branch', 'lessons are given on boards');
    return record.id;
  };

  app.get('/past', async (c) => {
    const ended = (await lessons.list(await mustRead(c))).filter(({ endedAt }) => endedAt !== null);
    return c.json(ended.map(({ id, title, openedAt }) => ({ id, title, openedAt })));
  });

  app.get('/past/:lesson', async (c) => {
    const board = await mustRead(c);
    const id = c.req.param('lesson');
    const lesson = ID.test(id) ? await lessons.find(id) : null;
    if (lesson === null || lesson.board !== board || lesson.endedAt === null) return unknown();
    const file = (await lessons.file(id)) ?? unknown();
    const { title, openedAt } = lesson;
    const plan = await lessons.plan(id);
    return c.json({ id, title, openedAt, ...plan, file: JSON.parse(Buffer.from(file).toString()) });
  });

  app.post('/', limitBody('the body', BODY_BYTES), async (c) => {
    const record = await mustTeach(c);
    const { version = null } = await readFields(c, ['version']);
    const file = await fileOf(deps, record.id, version);
    noteStored(c, file.length);
    const { title } = await boards.summary(record);
    const opened = await lessons.open(record.id, title, file);
    if (opened === 'too-many')
      return problem(409, 'too-many-lessons', `at most ${MAX_OPEN_LESSONS} lessons go on at once on a board`);
    return c.json({ ...show(opened.lesson), secret: opened.secret }, 201);
  });

  return app;
}

/** The board file of a version; of what stands there now where there is none named. */
async function fileOf(
  { boards, versions }: Pick<LessonRoutesDeps, 'boards' | 'versions'>,
  board: string,
  version: unknown,
): Promise<Uint8Array> {
  if (version === null) return boards.file(board);
  const state = typeof version === 'string' && ID.test(version) ? await versions.state(board, version) : null;
  if (state === null) return problem(404, 'no-such-version', 'the board has no such version', 'version');
  if (state === 'damaged') return problem(422, 'bad-version', 'the version cannot be read', 'version');
  return boards.fileOf(state);
}

/** One lesson. Mount under `/api/lessons/:id`. */
export function lessonRoutes(deps: LessonRoutesDeps): Hono {
  const app = new Hono();
  const { lessons, access, now } = deps;
  const limit = limitBody('the body', BODY_BYTES);
  const wrong = new GuessLimiter(now);
  const newcomers = new GuessLimiter(now, NEWCOMERS);

  const lessonOf = async (c: Context): Promise<LessonRecord> => {
    const id = c.req.param('id') ?? '';
    return (ID.test(id) ? await lessons.find(id) : null) ?? unknown();
  };

  const admit = async (
    c: Context,
  ): Promise<{ readonly lesson: LessonRecord; readonly standing: LessonStanding }> => {
    const lesson = await lessonOf(c);
    const standing = await lessons.standing(lesson, await personOfRequest(access, c));
    // To learners a lesson that has ended is one that is not there.
    const isOver = !isGoingOn(lesson, now());
    return standing === null || (isOver && standing.as === 'learner') ? unknown() : { lesson, standing };
  };

  const mustTeach = async (c: Context): Promise<LessonRecord> => {
    const { lesson, standing } = await admit(c);
    if (standing.as !== 'teacher') problem(403, 'forbidden', 'only teachers of the lesson may do this');
    return lesson;
  };

  const mustGoOn = async (c: Context): Promise<LessonRecord> => {
    const lesson = await mustTeach(c);
    return isGoingOn(lesson, now()) ? lesson : problem(409, 'lesson-over', 'the lesson has ended');
  };

  app.get('/', async (c) => {
    const { lesson, standing } = await admit(c);
    if (standing.as === 'teacher') return c.json({ as: 'teacher', ...show(lesson) });
    const { state: as, name } = standing.learner;
    return c.json({ as, name, title: lesson.title, state: lesson.state });
  });

  app.post('/enter', limit, async (c) => {
    const lesson = await lessonOf(c);
    const fields = await readFields(c, ['secret', 'name']);
    const address = deps.addressOf(c);
    if (!lessons.isLink(lesson, fields.secret) || !isGoingOn(lesson, now())) {
      const waitMs = wrong.waitMs(address);
      if (waitMs > 0) tooMany(c, waitMs, 'too-many-tries');
      wrong.fail(address);
      return problem(
        404,
        'unknown-link',
        'this link opens nothing: it is wrong, or the lesson has ended',
        'secret',
      );
    }
    const name = nameOf(fields.name);
    let personId = await personOfRequest(access, c);
    if (personId === null) {
      const key = `${lesson.id} ${address}`;
      const waitMs = newcomers.waitMs(key);
      if (waitMs > 0) tooMany(c, waitMs, 'too-many-newcomers');
      newcomers.fail(key);
      personId = await ensurePerson(deps, c);
    }
    const standing = await lessons.standing(lesson, personId);
    if (standing?.as === 'teacher') return c.json({ as: 'teacher' });
    const knocked = await lessons.knock(lesson, personId, name);
    switch (knocked) {
      case 'locked':
        return problem(403, 'lesson-locked', 'the door of the lesson is locked');
      case 'full':
        return problem(409, 'lesson-full', 'nobody more can come to this lesson');
      default:
        return c.json({ as: knocked.state, name: knocked.name });
    }
  });

  const tooMany = (c: Context, waitMs: number, kind: 'too-many-tries' | 'too-many-newcomers'): never => {
    c.header('Retry-After', String(Math.ceil(waitMs / 1000)));
    throw new HttpProblem(429, { kind, message: 'too many tries from one address; wait and try again' });
  };

  /** The board that it is about: whoever waits sees what to have ready. */
  app.get('/board', async (c) => {
    const { lesson, standing } = await admit(c);
    if (standing.as === 'learner' && standing.learner.state === 'out') unknown();
    const file = (await lessons.file(lesson.id)) ?? unknown();
    c.header('Content-Type', 'application/json; charset=utf-8');
    return c.body(Uint8Array.from(file));
  });

  app.put('/board', limit, async (c) => {
    const lesson = await mustGoOn(c);
    const { version = null } = await readFields(c, ['version']);
    const file = await fileOf(deps, lesson.board, version);
    noteStored(c, file.length);
    await lessons.takeState(lesson.id, file);
    return c.json({ state: lesson.state + 1 });
  });

  app.post('/link', async (c) => {
    const lesson = await mustGoOn(c);
    return c.json({ secret: await lessons.newLink(lesson.id) }, 201);
  });

  app.post('/people', limit, async (c) => {
    const lesson = await mustGoOn(c);
    const { people = null, to } = await readFields(c, ['people', 'to']);
    if (to !== 'in' && to !== 'out') return problem(422, 'wrong-type', 'to must be in or out', 'to');
    const isList = Array.isArray(people) && people.every((one) => typeof one === 'string');
    if (!isList && (people !== null || to === 'out'))
      return problem(422, 'wrong-type', 'people must be a list of ids, or null for all who wait', 'people');
    return c.json({ moved: await lessons.move(lesson.id, isList ? people : null, to) });
  });

  app.patch('/', limit, async (c) => {
    const lesson = await mustGoOn(c);
    const { isLocked } = await readFields(c, ['isLocked']);
    if (typeof isLocked !== 'boolean')
      return problem(422, 'wrong-type', 'isLocked must be true or false', 'isLocked');
    await lessons.lock(lesson.id, isLocked);
    return c.json({ isLocked });
  });

  app.post('/end', limit, async (c) => {
    const lesson = await mustTeach(c);
    const { keepDays = 0 } = await readFields(c, ['keepDays']);
    const isDays = typeof keepDays === 'number' && Number.isInteger(keepDays);
    if (!isDays || keepDays < 0 || keepDays > MAX_ROSTER_DAYS)
      return problem(422, 'out-of-range', `keepDays must be 0 to ${MAX_ROSTER_DAYS}`, 'keepDays');
    await lessons.end(lesson.id, keepDays * DAY_MS);
    return c.json({ done: true });
  });

  return app;
}
