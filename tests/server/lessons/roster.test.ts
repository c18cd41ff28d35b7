/** The roster of a lesson: who is where, what they say, what they are told; and that learners hear of nobody else. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keepDrawing, readLesson, writePlan } from '../../../engine/document/lesson/lesson.ts';
import { machineClock } from '../../../server/index.ts';
import { MemoryRelayHub } from '../../../server/relay/memory-relay.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { SqliteAccessStore } from '../../../server/access/sqlite-access-store.ts';
import { HandClock } from '../../support/hand-clock.ts';
import { until } from '../../support/until.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
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

describe('the roster', () => {
  it('[R10] has each learner’s place, words and colours, with the server’s times, the latest alone', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    const own = await LessonLine.join(teacher, lesson.id);
    for (const place of ['cut 1', 'cut 2', 'mount 0', 'tie band 1 2 3']) pim.say({ kind: 'at', place });
    pim.say({ kind: 'wears', colours: ['#aa0000', '#00bb00'] });
    pim.say({ kind: 'say', what: 'stuck' });
    const at = clock.now();
    const entry = await own.until('Pim', ({ says }) => says === 'stuck');
    expect(entry).toMatchObject({
      state: 'in',
      place: 'tie band 1 2 3',
      says: 'stuck',
      saidAt: at,
      seenAt: at,
      colours: ['#aa0000', '#00bb00'],
    });
    // Said again it is stuck since then; taken back it is not.
    clock.turn(5_000);
    pim.say({ kind: 'say', what: 'stuck' });
    await own.until('Pim', ({ seenAt, saidAt }) => seenAt === at + 5_000 && saidAt === at);
    pim.say({ kind: 'say', what: null });
    await own.until('Pim', ({ says, saidAt }) => says === null && saidAt === at + 5_000);
  });

  it('[R10] a person is one entry, on however many sockets', async () => {
    const lesson = await openLesson(teacher);
    const person = await learnerIn(server, teacher, lesson, 'Pim');
    const lines = await Promise.all(Array.from({ length: 40 }, () => LessonLine.join(person, lesson.id)));
    for (const [n, line] of lines.entries()) line.say({ kind: 'at', place: `cut ${n}` });
    for (const line of lines) await heardOut(line.client);
    const own = await LessonLine.join(teacher, lesson.id);
    await own.until('Pim', ({ place }) => place !== null);
    expect(own.roster).toHaveLength(1);
  });

  it('[R10] a teacher who comes later has all of it at once', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    const first = await LessonLine.join(teacher, lesson.id);
    pim.say({ kind: 'say', what: 'hand' });
    await first.until('Pim', ({ says }) => says === 'hand');
    const helper = new Person(server);
    await helper.enter(lesson.board, (await teacher.makeLink(lesson.board, 'co-maker')).secret);
    const second = await LessonLine.join(helper, lesson.id);
    expect(second.news('roster')[0]).toMatchObject({
      isWhole: true,
      people: [{ name: 'Pim', says: 'hand' }],
    });
  });

  it('[R13] what a teacher tells one learner reaches her and all teachers, and nobody else', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    const kai = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Kai'), lesson.id);
    const own = await LessonLine.join(teacher, lesson.id);
    const { person } = await own.until('Pim', ({ state }) => state === 'in');
    own.say({ kind: 'tell', person, text: 'The left one over.' });
    await until('she is told', () =>
      pim.news('you').some(({ told }) => told[0]?.text === 'The left one over.'),
    );
    await own.until('Pim', ({ told }) => told.length === 1);
    await heardOut(kai.client);
    expect(JSON.stringify(kai.client.heard)).not.toContain('The left one over.');
    // It is there for who comes back, and the last twenty stay.
    for (let n = 0; n < 25; n += 1) own.say({ kind: 'tell', person, text: `word ${n}` });
    await own.until('Pim', ({ told }) => told.length === 20 && told.at(-1)?.text === 'word 24');
    own.say({ kind: 'tell', person: 'nobody', text: 'hm' });
    await heardOut(own.client);
    expect(own.client.closeCode).toBeNull();
  });

  it('[R14] asked whether they are ready, who said so before has to say so again', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    const own = await LessonLine.join(teacher, lesson.id);
    pim.say({ kind: 'say', what: 'ready' });
    await own.until('Pim', ({ says }) => says === 'ready');
    own.say({ kind: 'ready?' });
    await own.until('Pim', ({ says }) => says === null);
    expect(pim.news('ready?')).toHaveLength(1);
  });

  it('[R14] learners hear how many are in: those who were heard of in the last two minutes', async () => {
    const lesson = await openLesson(teacher);
    const pim = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Pim'), lesson.id);
    const kai = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Kai'), lesson.id);
    await until('both are counted', () => pim.news('count').at(-1)?.count === 2);
    clock.turn(3 * 60_000);
    kai.say({ kind: 'at', place: 'cut 1' });
    await until('one is counted', () => pim.news('count').at(-1)?.count === 1);
  });
});

describe('children learn here', () => {
  it('[R11] in no frame of a learner’s sockets stands another learner’s name, id, words or place', async () => {
    const lesson = await openLesson(teacher);
    const pim = await learnerIn(server, teacher, lesson, 'Pimpernel');
    const frames: Buffer[] = [];
    const listen = (line: LessonLine): unknown =>
      line.client.socket.on('message', (data) => frames.push(Buffer.from(data as ArrayBuffer)));
    const client = pim.socket(lesson.id, 'lesson');
    const line = new LessonLine(client);
    listen(line);
    await client.join();
    line.say({ kind: 'hello' });
    const own = await LessonLine.join(teacher, lesson.id);
    own.client.edit((doc) => {
      writePlan(doc, [{ id: 's', place: { stage: 'cut', done: 0 }, note: 'n', waits: true, minutes: 3 }]);
      keepDrawing(doc, { id: 'd', stop: 's', stroke: [0, 0, 1, 1] });
    });
    // Everything that others do in a lesson: come, wait, are let in, say things, are told things, are put out, leave.
    await knock(server, lesson, 'Waldemar');
    const kai = await LessonLine.join(await learnerIn(server, teacher, lesson, 'Kailani'), lesson.id);
    kai.say({ kind: 'at', place: 'mount 7' });
    kai.say({ kind: 'say', what: 'hand' });
    kai.say({ kind: 'wears', colours: ['#c0ffee'] });
    const { person } = await own.until(
      'Kailani',
      ({ says, place }) => says === 'hand' && place === 'mount 7',
    );
    own.say({ kind: 'tell', person, text: 'Wait for the purple one.' });
    await own.until('Kailani', ({ told }) => told.length === 1);
    own.say({ kind: 'point', at: [1, 1] });
    await teacher.ask('POST', `/api/lessons/${lesson.id}/people`, { people: [person], to: 'out' });
    await own.until('Kailani', ({ state }) => state === 'out');
    line.say({ kind: 'hello' });
    await until('all of it has come', () => readLesson(line.client.doc).drawings.length === 1);
    await until('and what was said', () => line.news('point').length === 1 && line.news('you').length > 1);
    await heardOut(line.client);
    const heard = Buffer.concat(frames).toString('latin1');
    const others = (await server.store.records(lesson.id, 'learner')).map(({ id }) => id);
    const me = (await server.store.records(lesson.id, 'learner')).find(({ about }) =>
      about.includes('Pimpernel'),
    )!.id;
    expect(others).toHaveLength(3);
    const secret = [
      'Kailani',
      'Waldemar',
      'mount 7',
      '"hand"',
      'c0ffee',
      'purple',
      ...others.filter((id) => id !== me),
    ];
    for (const word of secret) expect(heard.includes(word), word).toBe(false);
    // What is looked for would be found: the teacher's frames have all of it, and this one's hold her own name.
    expect(heard).toContain('Pimpernel');
    const teachers = JSON.stringify(own.client.heard);
    for (const word of secret)
      expect(teachers.includes(word) || teachers.includes(JSON.stringify(word).slice(1, -1)), word).toBe(
        true,
      );
    // Nor does HTTP tell her of anybody.
    for (const path of ['', '/board']) {
      const { text } = await pim.ask('GET', `/api/lessons/${lesson.id}${path}`);
      for (const word of secret) expect(text.includes(word), `${path} ${word}`).toBe(false);
    }
    expect((await pim.ask('GET', `/api/boards/${lesson.board}`)).status).toBe(404);
  });
});

describe('two nodes', () => {
  it('[R16] learners of one stand in the roster of the other, and hear its teacher', async () => {
    const [store, hub, links] = [new MemoryStore(), new MemoryRelayHub(), new SqliteAccessStore(':memory:')];
    const nodes = [
      await startAccessServer({ store, relay: hub.node() }, links),
      await startAccessServer({ store, relay: hub.node() }, links),
    ] as const;
    const boss = new Person(nodes[0]);
    const lesson = await openLesson(boss);
    const pim = await learnerIn(nodes[1], boss, lesson, 'Pim');
    const there = await LessonLine.join(pim, lesson.id);
    const own = await LessonLine.join(boss, lesson.id);
    there.say({ kind: 'say', what: 'stuck' });
    const { person } = await own.until('Pim', ({ says }) => says === 'stuck');
    own.say({ kind: 'look', place: 'mount 2' });
    await until('she looks', () => there.news('look').length === 1);
    own.say({ kind: 'tell', person, text: 'Here.' });
    await until('she is told', () => there.news('you').some(({ told }) => told.length === 1));
    // Somebody who comes to the door on the other node waits in this roster.
    await knock(nodes[1], lesson, 'Una');
    await own.until('Una', ({ state }) => state === 'waiting');
    await boss.ask('POST', `/api/lessons/${lesson.id}/people`, { people: [person], to: 'out' });
    expect(await there.client.closed).toBe(4401);
    for (const node of nodes) await closeAccessServer(node);
  });
});

describe('a server that starts again', () => {
  it('[R18] has the plan, and who was let in is in', async () => {
    const [store, links] = [new MemoryStore(), new SqliteAccessStore(':memory:')];
    const first = await startAccessServer({ store, env: { PORT: '0' } }, links);
    const boss = new Person(first);
    const lesson = await openLesson(boss);
    const pim = await learnerIn(first, boss, lesson, 'Pim');
    const own = await LessonLine.join(boss, lesson.id);
    own.client.edit((doc) =>
      writePlan(doc, [{ id: 's', place: { stage: 'cut', done: 0 }, note: 'n', waits: true, minutes: 3 }]),
    );
    own.client.mark(1);
    await own.client.savedMark(1);
    // As it is on the disk, for a server that knows nothing of the first.
    const second = await startAccessServer({ store }, links);
    const back = new Person(second);
    back.cookie = pim.cookie;
    const line = await LessonLine.join(back, lesson.id);
    expect(readLesson(line.client.doc).stops).toMatchObject([{ note: 'n', waits: true }]);
    await until('she is known', () => line.news('you').some(({ name }) => name === 'Pim'));
    line.say({ kind: 'at', place: 'mount 3' });
    const teacherBack = new Person(second);
    teacherBack.cookie = boss.cookie;
    const again = await LessonLine.join(teacherBack, lesson.id);
    await again.until('Pim', ({ place }) => place === 'mount 3');
    await closeAccessServer(first);
    // The links were closed with the first.
    await second.close();
  });
});
