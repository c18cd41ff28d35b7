/** A lesson on a server, its teacher, and learners at its door and in it. */
import {
  encodeLessonText,
  type LearnerEntry,
  type LessonNews,
  type LessonSaying,
} from '../../engine/document/index.ts';
import { until } from '../support/until.ts';
import { type AccessServer, type Answer, heardOut, Person } from './access-people.ts';
import type { RawClient } from './raw-client.ts';

/** A lesson that was opened, with the secret of its link. */
export interface OpenLesson {
  readonly board: string;
  readonly id: string;
  readonly secret: string;
}

/** Opens a lesson on a new board of this owner. */
export async function openLesson(owner: Person, board?: string): Promise<OpenLesson> {
  const on = board ?? (await owner.makeBoard()).id;
  const made = await owner.ask('POST', `/api/boards/${on}/lessons`, {});
  if (made.status !== 201) throw new Error(`lesson not opened: ${made.text}`);
  return { board: on, id: made.json.id as string, secret: made.json.secret as string };
}

/** Somebody new knocks at the door. */
export async function knock(
  server: AccessServer,
  { id, secret }: OpenLesson,
  name: string,
  person = new Person(server),
): Promise<{ readonly person: Person; readonly answer: Answer }> {
  const answer = await person.ask('POST', `/api/lessons/${id}/enter`, { secret, name });
  return { person, answer };
}

/** Somebody new whom the teacher lets in. */
export async function learnerIn(
  server: AccessServer,
  teacher: Person,
  lesson: OpenLesson,
  name: string,
): Promise<Person> {
  const { person, answer } = await knock(server, lesson, name);
  if (answer.json.as !== 'waiting') throw new Error(`${name} does not wait: ${answer.text}`);
  await teacher.ask('POST', `/api/lessons/${lesson.id}/people`, { to: 'in' });
  return person;
}

/** Somebody's socket in a lesson. */
export class LessonLine {
  readonly client: RawClient;

  constructor(client: RawClient) {
    this.client = client;
  }

  /** Joins and greets. */
  static async join(person: Person, lesson: string): Promise<LessonLine> {
    const line = new LessonLine(await person.socket(lesson, 'lesson').join());
    line.say({ kind: 'hello' });
    await heardOut(line.client);
    return line;
  }

  say(saying: LessonSaying | Readonly<Record<string, unknown>>): void {
    this.client.send(encodeLessonText(JSON.stringify(saying)));
  }

  /** Everything of one kind that it has heard. */
  news<K extends LessonNews['kind']>(kind: K): readonly (LessonNews & { readonly kind: K })[] {
    return this.client.heard.flatMap((one) =>
      one.kind === 'lesson' && one.news.kind === kind ? [one.news as LessonNews & { readonly kind: K }] : [],
    );
  }

  /** The roster as a teacher's page would put it together. */
  get roster(): readonly LearnerEntry[] {
    const people = new Map<string, LearnerEntry>();
    for (const news of this.news('roster')) {
      if (news.isWhole) people.clear();
      for (const entry of news.people) people.set(entry.person, entry);
    }
    return [...people.values()];
  }

  /** Waits until the roster says so of somebody. */
  async until(name: string, is: (entry: LearnerEntry) => boolean): Promise<LearnerEntry> {
    await until(`${name} in the roster, where ${is}`, () =>
      this.roster.some((one) => one.name === name && is(one)),
    );
    return this.roster.find((one) => one.name === name)!;
  }
}
