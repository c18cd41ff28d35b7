/** What commands are computed from and what comes out: all writes, or why not. */

import { type BoardError, isPlainList, plainFields } from '../files/index.ts';
import { type Board, type Demand, demandMessage, showValue } from '../pattern/index.ts';
import type { CommandError, CommandErrorKind } from './command.ts';
import type { Colours } from './read-colours.ts';
import type { Shape } from './read-lists.ts';
import type { IdSource, Roots, Scope } from './schema.ts';
import type { Write } from './writes.ts';

/** The document as a command finds it. */
export interface CommandContext {
  readonly roots: Roots;
  readonly scope: Scope;
  readonly shape: Shape;
  readonly colours: Colours;
  readonly board: Board;
  readonly newId: IdSource;
}

/**
 * All that a command writes. `founding`: content of a new scope, which nobody reads before `writes` names it; it is
 * applied first and never undone, so that an undo cannot take a board away from those who went on with it.
 */
export interface WriteSet {
  readonly ok: true;
  readonly founding: readonly Write[];
  readonly writes: readonly Write[];
}

export type Prepared = WriteSet | { readonly ok: false; readonly error: CommandError };

/** A write set, without founding unless given. */
export function writeSet(writes: readonly Write[], founding: readonly Write[] = []): WriteSet {
  return { ok: true, founding, writes };
}

/** A refusal. */
export function refuse(
  kind: CommandErrorKind,
  path: string,
  what: string | Demand,
  found?: unknown,
): { readonly ok: false; readonly error: CommandError } {
  const value = showValue(found);
  const text = typeof what === 'string' ? what : demandMessage(what, value);
  const message = path === '' ? text : `${path}: ${text}`;
  return {
    ok: false,
    error: { kind, path, message, ...(typeof what === 'string' ? {} : { demand: what, value }) },
  };
}

/** A refusal for what a checker of boards found in the field `under` of a command. */
export function refuseFault(fault: BoardError, under = ''): ReturnType<typeof refuse> {
  const path = under + fault.path;
  return { ok: false, error: { ...fault, path, message: `${path}: ${fault.message}` } };
}

/** A refusal of what is no list of its own entries; null when it is one. Rule P32. */
export function checkList(path: string, value: unknown): ReturnType<typeof refuse> | null {
  return isPlainList(value) ? null : refuse('wrong-type', path, { be: 'list' }, value);
}

/** A refusal of what is no object of its own fields; null when it is one. Rule P32. */
export function checkFields(path: string, value: unknown): ReturnType<typeof refuse> | null {
  return plainFields(value) === null ? refuse('wrong-type', path, { be: 'object' }, value) : null;
}

/** Whether a value is a whole number within bounds, both included. */
export function isWhole(value: unknown, least: number, most: number): value is number {
  return typeof value === 'number' && Number.isInteger(value) && value >= least && value <= most;
}

export { showValue as show } from '../pattern/index.ts';
