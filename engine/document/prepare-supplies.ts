/** Computes what is said of threads and parts: a page that only shows a board need not fetch it. */
import {
  demandOf,
  type FieldRule,
  MAX_NAME_CHARACTERS,
  MAX_PARTS,
  MAX_THREADS,
  PART_FIELDS,
  partValueKey,
  THREAD_FIELDS,
  threadKey,
  threadValueKey,
} from '../files/index.ts';
import type { Command } from './command.ts';
import { demandOfText } from '../pattern/index.ts';
import { isColourId } from './read-colours.ts';
import { supplyKey } from './schema.ts';
import { readHex } from './text.ts';
import { type CommandContext, checkFields, type Prepared, refuse, show, writeSet } from './write-set.ts';
import { supplyWrite } from './write-board.ts';
import type { Write } from './writes.ts';

type Of<K extends Command['kind']> = Extract<Command, { kind: K }>;

/** The command that says something of the thread of that colour and name. */
export function setThread(thread: Of<'set-thread'>['thread'], patch: Of<'set-thread'>['patch']): Command {
  return { kind: 'set-thread', thread, patch, prepare: prepareSetThread };
}

/** The command that adds a line of parts, or changes the one of that id. */
export function setPart(id: string, patch: Of<'set-part'>['patch']): Command {
  return { kind: 'set-part', id, patch, prepare: prepareSetPart };
}

/** Rule D360. */
function prepareSetThread(
  context: CommandContext,
  { thread, patch }: Pick<Of<'set-thread'>, 'thread' | 'patch'>,
): Prepared {
  const noFields = checkFields('thread', thread) ?? checkFields('patch', patch);
  if (noFields !== null) return noFields;
  const hex = readHex(thread.hex);
  if (hex === null) return refuse('out-of-range', 'thread.hex', { be: 'hex' }, thread.hex);
  if (typeof thread.name !== 'string')
    return refuse('wrong-type', 'thread.name', { be: 'text' }, thread.name);
  if (thread.name.length > MAX_NAME_CHARACTERS)
    return refuse(
      'out-of-range',
      'thread.name',
      { be: 'characters', least: 0, most: MAX_NAME_CHARACTERS },
      thread.name.length,
    );
  const demand = demandOfText(thread.name);
  if (demand !== null) return refuse('out-of-range', 'thread.name', demand, thread.name);
  const { name } = thread;
  const key = threadKey({ hex, name });
  const threads = context.board.supplies?.threads ?? [];
  const isNew = !threads.some((one) => threadKey(one) === key);
  if (isNew && threads.length >= MAX_THREADS) return tooMany(MAX_THREADS);
  return preparePatch(context, patch, THREAD_FIELDS, (field) =>
    threadValueKey({ hex, name }, field as keyof typeof THREAD_FIELDS),
  );
}

/** Rule D360. */
function prepareSetPart(
  context: CommandContext,
  { id, patch }: Pick<Of<'set-part'>, 'id' | 'patch'>,
): Prepared {
  const noFields = checkFields('patch', patch);
  if (noFields !== null) return noFields;
  if (!isColourId(id)) return refuse('out-of-range', 'id', { be: 'id' }, '');
  const parts = context.board.supplies?.parts ?? [];
  const isNew = !parts.some((part) => part.id === id);
  if (isNew && parts.length >= MAX_PARTS) return tooMany(MAX_PARTS);
  return preparePatch(context, patch, PART_FIELDS, (field) =>
    partValueKey(id, field as keyof typeof PART_FIELDS),
  );
}

function preparePatch(
  { roots, scope }: CommandContext,
  patch: object,
  rules: Readonly<Record<string, FieldRule>>,
  keyOf: (field: string) => string,
): Prepared {
  const writes: Write[] = [];
  for (const [field, value] of Object.entries(patch)) {
    const rule = Object.hasOwn(rules, field) ? rules[field] : undefined;
    if (rule === undefined)
      return refuse('unknown-field', `patch.${show(field)}`, 'is no field of threads or parts');
    if (value === undefined) continue;
    const demand = value === null ? null : demandOf(rule, value);
    if (demand !== null) return refuse('out-of-range', `patch.${field}`, demand, value);
    const key = keyOf(field);
    if ((roots.meta.get(supplyKey(scope.board, key)) ?? null) !== value)
      writes.push(supplyWrite(roots, scope.board, key, value));
  }
  return writeSet(writes);
}

function tooMany(most: number): ReturnType<typeof refuse> {
  return refuse('limit', '', { be: 'entries', least: 0, most }, most + 1);
}
