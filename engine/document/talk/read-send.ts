/** What a browser sends to the server to say something: who speaks, a command of the talk, and an id of the sending. */
import { isAddressId, readPerson } from '../read-presence.ts';
import { readNewPin } from './pin.ts';
import type { Speaker } from './read-talk.ts';
import type { TalkCommand } from './talk.ts';
import { MAX_MENTIONS, MAX_REMARK_CHARACTERS } from './talk-schema.ts';

/** One thing said, on its way to the server. The same `id` sent again is the same thing. */
export interface TalkSend {
  /** 16 letters, digits, `_` or `-` of the sender's own choice. */
  readonly id: string;
  readonly by: Speaker;
  readonly command: TalkCommand;
}

/** Why what was sent cannot be read. */
interface SendError {
  readonly kind:
    | 'not-an-object'
    | 'unknown-field'
    | 'wrong-type'
    | 'out-of-range'
    | 'unknown-kind'
    | 'unknown-pin';
  readonly path: string;
  readonly message: string;
}

/** What was read, or why it cannot be. */
export type SendResult =
  | { readonly ok: true; readonly value: TalkSend }
  | { readonly ok: false; readonly error: SendError };

type Fields = Readonly<Record<string, unknown>>;

const SEND_ID = /^[\w-]{16}$/;
/** Ids of persons whose remarks get ids of their own; {@link remarkIdOf} has to stay within 40 characters. */
const PERSON_ID = /^[\w-]{1,22}$/;

const COMMAND_FIELDS: Readonly<Record<TalkCommand['kind'], readonly string[]>> = {
  'open-thread': ['kind', 'pin', 'text', 'mentions'],
  answer: ['kind', 'thread', 'text', 'mentions'],
  'change-remark': ['kind', 'thread', 'remark', 'text', 'mentions'],
  'take-back-remark': ['kind', 'thread', 'remark'],
  'set-done': ['kind', 'thread', 'done'],
};

const PIN_FIELDS: readonly string[] = ['kind', 'address', 'entry', 'of'];

/**
 * The id under which what a person sent stands in the talk, of threads and remarks alike. Nobody else's can be the same:
 * it holds the person's, whom the server knows by their cookie.
 * @throws RangeError when one of the two is no such id
 */
export function remarkIdOf(personId: string, sendId: string): string {
  if (!SEND_ID.test(sendId) || !PERSON_ID.test(personId))
    throw new RangeError(`${JSON.stringify(sendId)} of ${JSON.stringify(personId)} gives no id of a remark`);
  return `${sendId}-${personId}`;
}

class Refused extends Error {
  readonly error: SendError;

  constructor(kind: SendError['kind'], path: string, what: string) {
    super(what);
    this.error = { kind, path, message: path === '' ? what : `${path} ${what}` };
  }
}

function fieldsAt(value: unknown, path: string, known: readonly string[]): Fields {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new Refused('not-an-object', path, 'must be an object');
  const under = path === '' ? '' : `${path}.`;
  for (const name of Object.keys(value))
    if (!known.includes(name)) throw new Refused('unknown-field', `${under}${name}`, 'is no field here');
  return value as Fields;
}

function readIdAt(value: unknown, path: string): string {
  if (!isAddressId(value)) throw new Refused('wrong-type', path, 'must be the id of a thread or remark');
  return value;
}

function readTextAt(value: unknown): string {
  if (typeof value !== 'string') throw new Refused('wrong-type', 'command.text', 'must be text');
  if (value.trim() === '' || value.length > MAX_REMARK_CHARACTERS)
    throw new Refused('out-of-range', 'command.text', `must have 1 to ${MAX_REMARK_CHARACTERS} characters`);
  return value;
}

function readMentions(value: unknown): { readonly mentions?: readonly string[] } {
  if (value === undefined) return {};
  if (!Array.isArray(value)) throw new Refused('wrong-type', 'command.mentions', 'must be a list');
  if (value.length > MAX_MENTIONS)
    throw new Refused('out-of-range', 'command.mentions', `names at most ${MAX_MENTIONS} people`);
  value.forEach((id, i) => {
    if (!isAddressId(id))
      throw new Refused('wrong-type', `command.mentions[${i}]`, 'must be the id of a person');
  });
  return { mentions: value as readonly string[] };
}

function readCommand(value: unknown): TalkCommand {
  const { kind } = fieldsAt(value, 'command', Object.values(COMMAND_FIELDS).flat());
  const known = typeof kind === 'string' && Object.hasOwn(COMMAND_FIELDS, kind);
  if (!known) throw new Refused('unknown-kind', 'command.kind', 'is no command of the talk');
  const fields = fieldsAt(value, 'command', COMMAND_FIELDS[kind as TalkCommand['kind']]);
  const thread = (): string => readIdAt(fields.thread, 'command.thread');
  const remark = (): string => readIdAt(fields.remark, 'command.remark');
  const said = (): { text: string; mentions?: readonly string[] } => ({
    text: readTextAt(fields.text),
    ...readMentions(fields.mentions),
  });
  switch (kind as TalkCommand['kind']) {
    case 'open-thread': {
      fieldsAt(fields.pin, 'command.pin', PIN_FIELDS);
      const pin = readNewPin(fields.pin);
      if (pin === null) throw new Refused('unknown-pin', 'command.pin', 'names nothing to talk about');
      return { kind: 'open-thread', pin, ...said() };
    }
    case 'answer':
      return { kind: 'answer', thread: thread(), ...said() };
    case 'change-remark':
      return { kind: 'change-remark', thread: thread(), remark: remark(), ...said() };
    case 'take-back-remark':
      return { kind: 'take-back-remark', thread: thread(), remark: remark() };
    case 'set-done':
      if (typeof fields.done !== 'boolean')
        throw new Refused('wrong-type', 'command.done', 'must be true or false');
      return { kind: 'set-done', thread: thread(), done: fields.done };
  }
}

/** Reads what a browser sent: only known fields, each within its bounds. The first fault is named by its path. Rule K22. */
export function readTalkSend(value: unknown): SendResult {
  try {
    const { id, by, command } = fieldsAt(value, '', ['id', 'by', 'command']);
    if (typeof id !== 'string' || !SEND_ID.test(id))
      throw new Refused('wrong-type', 'id', 'must be 16 letters, digits, _ or -');
    const person = readPerson(fieldsAt(by, 'by', ['id', 'name', 'hex']));
    if (person === null || person.name.trim() === '' || !PERSON_ID.test(person.id))
      throw new Refused('wrong-type', 'by', 'must be a person with id, name and colour');
    return { ok: true, value: { id, by: person, command: readCommand(command) } };
  } catch (cause) {
    if (!(cause instanceof Refused)) throw cause;
    return { ok: false, error: cause.error };
  }
}
