/** The door of a lesson: opened on a state of the board, the link, the waiting room, the lock, being put out, the end. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CLOSE_CODES, readTalk } from '../../../engine/document/index.ts';
import { machineClock } from '../../../server/index.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  someone,
  startAccessServer,
} from '../access-people.ts';
import { knock, LessonLine, learnerIn, openLesson } from '../lesson-people.ts';

let server: AccessServer;
let teacher: Person;
const clock = new HandClock(machineClock);

beforeAll(async () => {
  server = await startAccessServer({ clock });
  teacher = new Person(server);
});
afterAll(() => closeAccessServer(server));

const kindOf = ({ json }: { json: Readonly<Record<string, unknown>> }): unknown =>
  (json.error as { kind: string } | undefined)?.kind;

describe('opening a lesson', () => {
  it('[R1] is for owners and co-makers, who alone see the lessons of a board', async () => {
    for (const role of ['owner', 'co-maker', 'reviewer', 'learner', 'onlooker'] as const) {
      const { board, person } = await someone(role, server, teacher);
      const teaches = role === 'owner' || role === 'co-maker';
      const made = await person.ask('POST', `/api/boards/${board}/lessons`, {});
      expect([role, made.status]).toEqual([role, teaches ? 201 : 403]);
      const listed = await person.ask('GET', `/api/boards/${board}/lessons`);
      expect([role, listed.status]).toEqual([role, teaches ? 200 : 403]);
      if (teaches)
        expect(JSON.parse(listed.text)).toMatchObject([{ id: made.json.id, endedAt: null, title: 'kites' }]);
    }
    const { board } = await someone('onlooker', server, teacher);
    expect((await new Person(server).ask('POST', `/api/boards/${board}/lessons`, {})).status).toBe(404);
  });

  it('[R1] it is about the board as it stood, or a version of it, until the teacher takes another state', async () => {
    const lesson = await openLesson(teacher);
    const at = `/api/lessons/${lesson.id}`;
    const titleOf = async (): Promise<unknown> => (await teacher.ask('GET', `${at}/board`)).json.title;
    const file = (await teacher.ask('GET', `${at}/board`)).json;
    expect(file).toMatchObject({ format: 'larkboard', title: 'kites' });
    const kept = await teacher.ask('POST', `/api/boards/${lesson.board}/versions`, {
      name: 'first',
      person: 'O',
    });
    expect(kept.status).toBe(201);
    await teacher.ask('PUT', `/api/boards/${lesson.board}/file`, { ...file, title: 'kites, later' });
    expect(await titleOf()).toBe('kites');
    const line = await LessonLine.join(teacher, lesson.id);
    expect((await teacher.ask('PUT', `${at}/board`, {})).json).toEqual({ state: 2 });
    expect(await titleOf()).toBe('kites, later');
    await until('told', () => line.news('board').some(({ state }) => state === 2));
    expect((await teacher.ask('PUT', `${at}/board`, { version: kept.json.id })).json).toEqual({ state: 3 });
    expect(await titleOf()).toBe('kites');
    for (const version of ['none', 7, '../x'])
      expect([404, kindOf(await teacher.ask('PUT', `${at}/board`, { version }))]).toEqual([
        404,
        'no-such-version',
      ]);
  });

  it('[R1] what names the lesson of another board, as an archive might, lists nothing', async () => {
    const lesson = await openLesson(teacher);
    const other = new Person(server);
    const { id: board } = await other.makeBoard();
    await server.store.putRecord({
      board,
      kind: 'lesson',
      id: lesson.id,
      about: '{}',
      bytes: new Uint8Array(0),
    });
    expect((await other.ask('GET', `/api/boards/${board}/lessons`)).text).toBe('[]');
    expect((await other.ask('GET', `/api/lessons/${lesson.id}`)).status).toBe(404);
  });

  it('[R19] at most eight go on at once on a board', async () => {
    const { id: board } = await teacher.makeBoard();
    const first = await openLesson(teacher, board);
    for (let n = 1; n < 8; n += 1) await openLesson(teacher, board);
    expect(kindOf(await teacher.ask('POST', `/api/boards/${board}/lessons`, {}))).toBe('too-many-lessons');
    await teacher.ask('POST', `/api/lessons/${first.id}/end`, {});
    expect((await teacher.ask('POST', `/api/boards/${board}/lessons`, {})).status).toBe(201);
  });
});

describe('the door', () => {
  it('[R2] the link opens the waiting room alone; the teacher lets in one, or all', async () => {
    const lesson = await openLesson(teacher);
    const at = `/api/lessons/${lesson.id}`;
    const [pim, kai, una] = await Promise.all(
      ['Pim', 'Kai', 'Una'].map((name) => knock(server, lesson, name)),
    );
    expect(pim!.answer.json).toEqual({ as: 'waiting', name: 'Pim' });
    expect((await pim!.person.ask('GET', at)).json).toEqual({
      as: 'waiting',
      name: 'Pim',
      title: 'kites',
      state: 1,
    });
    // What to have ready is seen before.
    expect((await pim!.person.ask('GET', `${at}/board`)).json).toMatchObject({ format: 'larkboard' });
    expect(await pim!.person.socket(lesson.id, 'lesson').closed).toBe(CLOSE_CODES.forbidden);
    const line = await LessonLine.join(teacher, lesson.id);
    const { person } = await line.until('Pim', ({ state }) => state === 'waiting');
    expect((await teacher.ask('POST', `${at}/people`, { people: [person], to: 'in' })).json).toEqual({
      moved: 1,
    });
    expect((await pim!.person.ask('GET', at)).json).toMatchObject({ as: 'in' });
    await LessonLine.join(pim!.person, lesson.id);
    expect((await kai!.person.ask('GET', at)).json).toMatchObject({ as: 'waiting' });
    expect((await teacher.ask('POST', `${at}/people`, { to: 'in' })).json).toEqual({ moved: 2 });
    for (const { person: one } of [kai!, una!]) await LessonLine.join(one, lesson.id);
  });

  it('[R2] a wrong link opens nothing, and a name is one line of plain text', async () => {
    const lesson = await openLesson(teacher);
    const other = await openLesson(teacher);
    for (const secret of [other.secret, 'x'.repeat(32), '', 7, undefined]) {
      const { answer } = await knock(server, { ...lesson, secret: secret as string }, 'Pim');
      expect([answer.status, kindOf(answer)]).toEqual([404, 'unknown-link']);
    }
    for (const name of ['', '  ', 'a\nb', 'x'.repeat(61), '\u202Eabc'])
      expect(kindOf((await knock(server, lesson, name)).answer), JSON.stringify(name)).toBe('bad-name');
    // A cookie that is somebody's is nobody's here without the link.
    expect((await new Person(server).ask('GET', `/api/lessons/${lesson.id}`)).status).toBe(404);
  });

  it('[R2] a new link takes the place of the one before', async () => {
    const lesson = await openLesson(teacher);
    const made = await teacher.ask('POST', `/api/lessons/${lesson.id}/link`);
    expect(kindOf((await knock(server, lesson, 'Pim')).answer)).toBe('unknown-link');
    const { answer } = await knock(server, { ...lesson, secret: made.json.secret as string }, 'Pim');
    expect(answer.json.as).toBe('waiting');
  });

  it('[R3] locked, nobody new comes to it; who was there before does', async () => {
    const lesson = await openLesson(teacher);
    const pim = await learnerIn(server, teacher, lesson, 'Pim');
    const at = `/api/lessons/${lesson.id}`;
    expect((await teacher.ask('PATCH', at, { isLocked: true })).json).toEqual({ isLocked: true });
    expect(kindOf((await knock(server, lesson, 'Kai')).answer)).toBe('lesson-locked');
    expect((await knock(server, lesson, 'Pim', pim)).answer.json.as).toBe('in');
    await teacher.ask('PATCH', at, { isLocked: false });
    expect((await knock(server, lesson, 'Kai')).answer.json.as).toBe('waiting');
  });

  it('[R4] who is put out is out on all sockets at once, and stays out of this lesson', async () => {
    const lesson = await openLesson(teacher);
    const [pim, kai] = [
      await learnerIn(server, teacher, lesson, 'Pim'),
      await learnerIn(server, teacher, lesson, 'Kai'),
    ];
    const lines = await Promise.all([1, 2, 3].map(() => LessonLine.join(pim, lesson.id)));
    const beside = await LessonLine.join(kai, lesson.id);
    const own = await LessonLine.join(teacher, lesson.id);
    const { person } = await own.until('Pim', ({ state }) => state === 'in');
    await teacher.ask('POST', `/api/lessons/${lesson.id}/people`, { people: [person], to: 'out' });
    for (const { client } of lines) expect(await client.closed).toBe(CLOSE_CODES.revoked);
    expect(await pim.socket(lesson.id, 'lesson').closed).toBe(CLOSE_CODES.revoked);
    expect((await knock(server, lesson, 'Pim', pim)).answer.json.as).toBe('out');
    expect((await pim.ask('GET', `/api/lessons/${lesson.id}/board`)).status).toBe(404);
    await heardOut(beside.client);
    expect(beside.client.closeCode).toBeNull();
    // The teacher may think again.
    await teacher.ask('POST', `/api/lessons/${lesson.id}/people`, { people: [person], to: 'in' });
    await LessonLine.join(pim, lesson.id);
  });

  it('[R19] at most 120 come to it', async () => {
    const lesson = await openLesson(teacher);
    const all = Array.from({ length: 121 }, (_, i) =>
      knock(server, lesson, `n${i}`, new Person(server, `192.0.3.${i}`)),
    );
    const answers = await Promise.all(all);
    const full = answers.filter(({ answer }) => kindOf(answer) === 'lesson-full');
    expect(full).toHaveLength(1);
  });
});

describe('the end', () => {
  it('[R5] puts everybody out; the link, and what was known of people, goes with it', async () => {
    const lesson = await openLesson(teacher);
    const pim = await learnerIn(server, teacher, lesson, 'Pim');
    const lines = [await LessonLine.join(pim, lesson.id), await LessonLine.join(teacher, lesson.id)];
    expect((await teacher.ask('POST', `/api/lessons/${lesson.id}/end`, {})).status).toBe(200);
    for (const { client } of lines) expect(await client.closed).toBe(CLOSE_CODES.revoked);
    expect((await pim.ask('GET', `/api/lessons/${lesson.id}`)).status).toBe(404);
    expect(kindOf((await knock(server, lesson, 'Pim', pim)).answer)).toBe('unknown-link');
    expect(await pim.socket(lesson.id, 'lesson').closed).toBe(CLOSE_CODES.unknownBoard);
    expect(await server.store.records(lesson.id, 'learner')).toEqual([]);
    expect((await teacher.ask('GET', `/api/lessons/${lesson.id}`)).json).toMatchObject({
      endedAt: clock.now(),
    });
    expect(kindOf(await teacher.ask('POST', `/api/lessons/${lesson.id}/link`))).toBe('lesson-over');
  });

  it('[R5] the roster may stay up to 30 days, and no longer', async () => {
    const lesson = await openLesson(teacher);
    await learnerIn(server, teacher, lesson, 'Pim');
    const end = `/api/lessons/${lesson.id}/end`;
    for (const keepDays of [31, -1, 1.5, '3'])
      expect(kindOf(await teacher.ask('POST', end, { keepDays }))).toBe('out-of-range');
    await teacher.ask('POST', end, { keepDays: 2 });
    const left = (): Promise<number> =>
      server.store.records(lesson.id, 'learner').then(({ length }) => length);
    clock.turn(24 * 3_600_000);
    expect(await left()).toBe(1);
    clock.turn(25 * 3_600_000);
    await until('the roster is forgotten', async () => (await left()) === 0);
  });

  it('[R5] a lesson that nobody ends ends after a day', async () => {
    const lesson = await openLesson(teacher);
    const pim = await learnerIn(server, teacher, lesson, 'Pim');
    const { client } = await LessonLine.join(pim, lesson.id);
    clock.turn(24 * 3_600_000 + 1_000);
    expect(await client.closed).toBe(CLOSE_CODES.revoked);
    expect(kindOf((await knock(server, lesson, 'Kai')).answer)).toBe('unknown-link');
    await until('it is swept', async () => (await server.store.records(lesson.id, 'learner')).length === 0);
  });
});

describe('the board of a lesson', () => {
  it('[R17] rights follow from it: a teacher whose link is taken back is out', async () => {
    const lesson = await openLesson(teacher);
    const link = await teacher.makeLink(lesson.board, 'co-maker');
    const helper = new Person(server);
    await helper.enter(lesson.board, link.secret);
    const { client } = await LessonLine.join(helper, lesson.id);
    await teacher.ask('DELETE', `/api/boards/${lesson.board}/links/${link.id}`);
    expect(await client.closed).toBe(CLOSE_CODES.revoked);
  });

  it('[R17] deleted, it takes its lessons with it', async () => {
    const lesson = await openLesson(teacher);
    const pim = await learnerIn(server, teacher, lesson, 'Pim');
    const { client } = await LessonLine.join(pim, lesson.id);
    await teacher.ask('DELETE', `/api/boards/${lesson.board}`);
    expect([CLOSE_CODES.revoked, CLOSE_CODES.deleted]).toContain(await client.closed);
    await until('the lesson is gone', async () => (await server.store.board(lesson.id)) === null);
  });

  it('[R17] nothing of a lesson stands in its archive, its talk or its versions', async () => {
    const lesson = await openLesson(teacher);
    const pim = await learnerIn(server, teacher, lesson, 'Pimpernel');
    const line = await LessonLine.join(pim, lesson.id);
    line.say({ kind: 'say', what: 'stuck' });
    await heardOut(line.client);
    const archive = await teacher.ask('GET', `/api/boards/${lesson.board}/archive`);
    expect(archive.status).toBe(200);
    const records = (await server.store.records(lesson.board, null)).filter(({ about }) =>
      about.includes('Pimpernel'),
    );
    expect(records).toEqual([]);
    expect(archive.text).not.toContain(lesson.id);
    expect(readTalk((await teacher.socket(lesson.board, 'talk').join()).doc).threads).toEqual([]);
  });
});
