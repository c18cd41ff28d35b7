/** What is left of a lesson that has ended, for whoever may look at its board. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { keepDrawing, type Stop, takeLead, writePlan } from '../../../engine/document/index.ts';
import { type AccessServer, closeAccessServer, Person, startAccessServer } from '../access-people.ts';
import { learnerIn, LessonLine, openLesson } from '../lesson-people.ts';

let server: AccessServer;
beforeAll(async () => {
  server = await startAccessServer();
});
afterAll(() => closeAccessServer(server));

const STOP: Stop = {
  id: 's1',
  place: { stage: 'cut', done: 0 },
  note: 'Cut on the mark',
  waits: true,
  minutes: 5,
};

it('[R20] its plan is walked through by whoever may look at the board, and names nobody who was there', async () => {
  const teacher = new Person(server);
  const lesson = await openLesson(teacher);
  const learner = await learnerIn(server, teacher, lesson, 'Pimpernel');
  const line = await LessonLine.join(learner, lesson.id);
  line.say({ kind: 'say', what: 'stuck' });
  const own = await LessonLine.join(teacher, lesson.id);
  own.client.edit((doc) => {
    writePlan(doc, [STOP]);
    takeLead(doc, { page: 'p1', name: 'Tess' });
    keepDrawing(doc, { id: 'd1', stop: 's1', stroke: [0, 0, 1, 2] });
  });
  own.client.mark(1);
  await own.client.savedMark(1);
  const onlooker = new Person(server);
  const { secret } = await teacher.makeLink(lesson.board, 'onlooker');
  await onlooker.enter(lesson.board, secret);
  const at = `/api/boards/${lesson.board}/lessons/past`;
  // While it goes on it is not there.
  expect((await onlooker.ask('GET', at)).json).toEqual([]);
  expect((await onlooker.ask('GET', `${at}/${lesson.id}`)).status).toBe(404);

  await teacher.ask('POST', `/api/lessons/${lesson.id}/end`, { keepDays: 30 });
  const [past] = (await onlooker.ask('GET', at)).json as unknown as { id: string }[];
  expect(past?.id).toBe(lesson.id);
  const walk = await onlooker.ask('GET', `${at}/${lesson.id}`);
  expect(walk.status).toBe(200);
  expect(walk.json.stops).toEqual([STOP]);
  expect(walk.json.drawings).toEqual([{ id: 'd1', stop: 's1', stroke: [0, 0, 1, 2] }]);
  expect((walk.json.file as { format: string }).format).toBe('larkboard');
  for (const name of ['Pimpernel', 'Tess', 'stuck']) expect(walk.text).not.toContain(name);

  // Nobody else: not the learner, whose right ended, nor a stranger, nor by another board.
  const other = await openLesson(teacher);
  for (const [who, address] of [
    [learner, `${at}/${lesson.id}`],
    [new Person(server), `${at}/${lesson.id}`],
    [teacher, `/api/boards/${other.board}/lessons/past/${lesson.id}`],
    [teacher, `${at}/nothing`],
  ] as const)
    expect((await who.ask('GET', address)).status).toBe(404);
});
