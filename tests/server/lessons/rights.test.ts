/** Every role and every message at the socket of a lesson, the hostile too. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import * as Y from 'yjs';
import { CLOSE_CODES, encodeLessonText, type LessonSaying } from '../../../engine/document/index.ts';
import {
  readLesson,
  takeLead,
  writePlan,
  writeTeachersPlace,
} from '../../../engine/document/lesson/lesson.ts';
import { until } from '../../support/until.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  startAccessServer,
} from '../access-people.ts';
import { knock, LessonLine, learnerIn, type OpenLesson, openLesson } from '../lesson-people.ts';
import { message, presenceMessage } from '../raw-client.ts';

let server: AccessServer;
let teacher: Person;

beforeAll(async () => {
  server = await startAccessServer();
  teacher = new Person(server);
});
afterAll(() => closeAccessServer(server));

const WHO = [
  'owner',
  'co-maker',
  'learner let in',
  'learner waiting',
  'learner put out',
  'reviewer of the board',
  'learner of the board',
  'onlooker of the board',
  'teacher of another lesson',
  'stranger',
] as const;
type Who = (typeof WHO)[number];
const TEACHES: readonly Who[] = ['owner', 'co-maker'];
const READS: readonly Who[] = [...TEACHES, 'learner let in'];

async function come(who: Who, lesson: OpenLesson): Promise<Person> {
  switch (who) {
    case 'owner':
      return teacher;
    case 'learner let in':
      return learnerIn(server, teacher, lesson, 'Pim');
    case 'learner waiting':
      return (await knock(server, lesson, 'Pim')).person;
    case 'learner put out': {
      const pim = await learnerIn(server, teacher, lesson, 'Pim');
      const [{ id } = { id: '' }] = await server.store.records(lesson.id, 'learner');
      await teacher.ask('POST', `/api/lessons/${lesson.id}/people`, { people: [id], to: 'out' });
      return pim;
    }
    case 'teacher of another lesson': {
      const other = new Person(server);
      await openLesson(other);
      return other;
    }
    case 'stranger':
      return new Person(server);
    default: {
      const person = new Person(server);
      const role = who.split(' ')[0] as 'reviewer' | 'learner' | 'onlooker' | 'co-maker';
      await person.enter(lesson.board, (await teacher.makeLink(lesson.board, role)).secret);
      return person;
    }
  }
}

const plan = [
  { id: 's', place: { stage: 'mount', done: 0 }, note: 'ring', waits: true, minutes: null },
] as const;

describe.each(WHO)('%s', (who) => {
  const teaches = TEACHES.includes(who);

  it('[R6] reads and writes the document of the lesson only where the table says so', async () => {
    const lesson = await openLesson(teacher);
    const own = await LessonLine.join(teacher, lesson.id);
    own.client.edit((doc) => writePlan(doc, plan));
    own.client.mark(1);
    await own.client.savedMark(1);
    const person = await come(who, lesson);
    const client = person.socket(lesson.id, 'lesson');
    if (!READS.includes(who)) {
      expect([4401, 4403, 4404]).toContain(await client.closed);
      expect(client.heard).toEqual([]);
      return;
    }
    await client.join();
    expect(readLesson(client.doc).stops).toMatchObject([{ note: 'ring' }]);
    client.answers = false;
    for (const kind of [1, 2]) {
      const mine = new Y.Doc();
      Y.applyUpdate(mine, Y.encodeStateAsUpdate(client.doc));
      writeTeachersPlace(mine, { stage: 'tie', knot: null });
      takeLead(mine, { page: 'x', name: 'me' });
      mine.getMap('stops').delete('s:place');
      client.send(message(0, kind, Y.encodeStateAsUpdate(mine, Y.encodeStateVector(client.doc))));
      await heardOut(client);
    }
    const now = readLesson((await teacher.socket(lesson.id, 'lesson').join()).doc);
    expect([now.place, now.lead?.name, now.stops.length]).toEqual(
      teaches ? [{ stage: 'tie', knot: null }, 'me', 0] : [null, undefined, 1],
    );
    expect(client.closeCode).toBeNull();
  });

  it('[R7] has none of a board’s documents and addresses under the id of the lesson', async () => {
    const lesson = await openLesson(teacher);
    const person = await come(who, lesson);
    for (const part of ['design', 'talk'] as const)
      expect(await person.socket(lesson.id, part).closed).toBe(CLOSE_CODES.unknownBoard);
    expect(await person.socket(lesson.board, 'lesson').closed).toBe(CLOSE_CODES.unknownBoard);
    const at = `/api/boards/${lesson.id}`;
    for (const path of [
      '',
      '/me',
      '/file',
      '/links',
      '/versions',
      '/visits',
      '/proposals',
      '/lessons',
      '/archive',
      '/sight',
    ])
      expect([path, (await person.ask('GET', at + path)).status]).toEqual([path, 404]);
    for (const path of ['/links', '/copy', '/talk', '/versions', '/proposals', '/lessons', '/enter'])
      expect([
        path,
        (await person.ask('POST', at + path, path === '/enter' ? { secret: lesson.secret } : {})).status,
      ]).toEqual([path, 404]);
    expect((await person.ask('DELETE', at)).status).toBe(404);
    expect((await person.ask('GET', '/api/mine')).text).not.toContain(lesson.id);
  });

  it('[R6] does over HTTP what the table says', async () => {
    const lesson = await openLesson(teacher);
    const person = await come(who, lesson);
    const at = `/api/lessons/${lesson.id}`;
    const isKnown = who.startsWith('learner ') && who !== 'learner of the board';
    const seen = teaches ? 200 : isKnown ? 403 : 404;
    expect((await person.ask('GET', at)).status).toBe(teaches || isKnown ? 200 : 404);
    expect((await person.ask('GET', `${at}/board`)).status).toBe(
      teaches || (isKnown && who !== 'learner put out') ? 200 : 404,
    );
    expect((await person.ask('PATCH', at, { isLocked: true })).status).toBe(seen);
    expect((await person.ask('POST', `${at}/people`, { to: 'in' })).status).toBe(seen);
    expect((await person.ask('PUT', `${at}/board`, {})).status).toBe(seen);
    expect((await person.ask('POST', `${at}/link`)).status).toBe(teaches ? 201 : seen);
    expect((await person.ask('POST', `${at}/end`, {})).status).toBe(seen);
    const now = await teacher.ask('GET', at);
    expect([now.json.isLocked, now.json.endedAt === null]).toEqual([teaches, !teaches]);
  });
});

const OF_TEACHERS: readonly LessonSaying[] = [
  { kind: 'point', at: [1, 2] },
  { kind: 'stroke', stroke: [1, 2, 3, 4] },
  { kind: 'look', place: 'mount 2' },
  { kind: 'ready?' },
];
const OF_LEARNERS: readonly LessonSaying[] = [
  { kind: 'at', place: 'cut 1' },
  { kind: 'say', what: 'stuck' },
  { kind: 'wears', colours: ['#123456'] },
];

describe('what is said', () => {
  it('[R9] of teachers reaches everybody from a teacher, and nobody from a learner', async () => {
    const lesson = await openLesson(teacher);
    const [pim, kai] = [
      await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id),
      await LessonLine.join(await learnerIn(server, teacher, lesson, 'Kai'), lesson.id),
    ];
    const own = await LessonLine.join(teacher, lesson.id);
    for (const saying of OF_TEACHERS) pim.say(saying);
    pim.say({ kind: 'tell', person: 'anybody', text: 'boo' });
    await heardOut(pim.client);
    for (const line of [kai, own])
      for (const { kind } of OF_TEACHERS) expect(line.news(kind as 'look')).toEqual([]);
    for (const saying of OF_TEACHERS) own.say(saying);
    for (const line of [pim, kai])
      for (const saying of OF_TEACHERS)
        await until(`${saying.kind}`, () => line.news(saying.kind as 'look').length === 1);
    expect(pim.news('stroke')).toEqual([OF_TEACHERS[1]]);
    expect(pim.client.closeCode).toBeNull();
  });

  it('[R9] of learners is nothing from a teacher', async () => {
    const lesson = await openLesson(teacher);
    const own = await LessonLine.join(teacher, lesson.id);
    for (const saying of OF_LEARNERS) own.say(saying);
    own.say({ kind: 'hello' });
    await until('the roster', () => own.news('roster').filter(({ isWhole }) => isWhole).length === 2);
    expect(own.roster).toEqual([]);
  });

  it('[R9] in another’s name is one’s own: what it is, not whose, is read from it', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    await learnerIn(server, teacher, lesson, 'Kai');
    const own = await LessonLine.join(teacher, lesson.id);
    const kai = await own.until('Kai', ({ state }) => state === 'in');
    pim.say({ kind: 'say', what: 'stuck', person: kai.person, name: 'Kai' });
    await own.until('Pim', ({ says }) => says === 'stuck');
    expect(own.roster.find(({ name }) => name === 'Kai')).toMatchObject({ says: null, seenAt: 0 });
  });

  it('[R9] beyond what a hand does closes the socket: a flood of steps, 10,000 strokes', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    for (let n = 0; n < 200; n += 1) pim.say({ kind: 'at', place: `cut ${n}` });
    expect(await pim.client.closed).toBe(CLOSE_CODES.tooFast);
    const own = await LessonLine.join(teacher, lesson.id);
    for (let n = 0; n < 10_000; n += 1) own.say({ kind: 'stroke', stroke: [n, 0, 1, 1] });
    expect(await own.client.closed).toBe(CLOSE_CODES.tooFast);
    const late = await LessonLine.join(teacher, lesson.id);
    expect(late.news('stroke')).toEqual([]);
  });

  it('[R9] that is nothing is passed over, and what is no message closes the socket', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    for (const text of ['', '{', '[]', '{"kind":"own"}', `{"kind":"say","what":"${'x'.repeat(20_000)}"}`])
      pim.client.send(encodeLessonText(text));
    pim.say({ kind: 'at', place: 'tie it all' });
    await heardOut(pim.client);
    expect(pim.client.closeCode).toBeNull();
    pim.client.send(message(105));
    expect(await pim.client.closed).toBe(CLOSE_CODES.malformed);
    // Nor is anything said beside the documents of a board.
    const design = await teacher.socket(lesson.board, 'design').join();
    design.send(encodeLessonText('{"kind":"hello"}'));
    expect(await design.closed).toBe(CLOSE_CODES.malformed);
  });

  it('[R12] is never stored: of pointer, strokes and steps nothing stands in a record or a document', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    const own = await LessonLine.join(teacher, lesson.id);
    const before = JSON.stringify(await server.store.records(lesson.id, null));
    for (const saying of OF_TEACHERS) own.say(saying);
    for (const saying of OF_LEARNERS) pim.say(saying);
    await own.until('Pim', ({ says, place }) => says === 'stuck' && place === 'cut 1');
    expect(JSON.stringify(await server.store.records(lesson.id, null))).toBe(before);
    expect(await server.store.load({ board: lesson.id, part: 'lesson' })).toEqual([]);
  });
});

describe('presence', () => {
  it('[R8] is nobody’s in the room of a lesson, whoever shows it and however it is asked for', async () => {
    const lesson = await openLesson(teacher);
    const pim = await learnerIn(server, teacher, lesson, 'Pim');
    const [a, b] = [await LessonLine.join(pim, lesson.id), await LessonLine.join(teacher, lesson.id)];
    const person = { id: 'p', name: 'Pim', hex: '#112233' };
    for (const { client } of [a, b]) {
      client.send(
        presenceMessage([{ client: client.doc.clientID, clock: 1, state: JSON.stringify({ person }) }]),
      );
      client.send(message(3));
    }
    for (const { client } of [a, b]) {
      await client.waitFor((one) => one.kind === 'presence');
      await heardOut(client);
      expect(client.heard.flatMap((one) => (one.kind === 'presence' ? one.entries : []))).toEqual([]);
    }
  });

  it('[R8] [V24] a client that says nothing of ours joins, reads and hears nothing of ours', async () => {
    const lesson = await openLesson(teacher);
    const client = await (await learnerIn(server, teacher, lesson, 'Pim')).socket(lesson.id, 'lesson').join();
    const own = await LessonLine.join(teacher, lesson.id);
    for (const saying of OF_TEACHERS) own.say(saying);
    await heardOut(own.client);
    await heardOut(client);
    expect(client.heard.filter(({ kind }) => kind === 'lesson')).toEqual([]);
  });
});
