/** Computes title, piece and gauge. */
import {
  demandOf,
  type FieldRule,
  GAUGE_FIELDS,
  MAX_TITLE_CHARACTERS,
  PIECE_FIELDS,
} from '../files/index.ts';
import { demandOfText } from '../pattern/index.ts';
import type { Command } from './command.ts';
import { scoped } from './schema.ts';
import { type CommandContext, checkFields, type Prepared, refuse, show, writeSet } from './write-set.ts';
import { set, type Write } from './writes.ts';

type Of<K extends Command['kind']> = Extract<Command, { kind: K }>;

/** Rule D50. */
export function prepareSetTitle(context: CommandContext, { title }: Of<'set-title'>): Prepared {
  if (typeof title !== 'string') return refuse('wrong-type', 'title', 'must be text');
  if (title.length > MAX_TITLE_CHARACTERS)
    return refuse(
      'out-of-range',
      'title',
      { be: 'characters', least: 0, most: MAX_TITLE_CHARACTERS },
      title.length,
    );
  const demand = demandOfText(title);
  if (demand !== null) return refuse('out-of-range', 'title', demand, title);
  const key = scoped(context.scope.board, 'title');
  return writeSet(title === context.board.title ? [] : [set(context.roots.meta, key, title)]);
}

/** Of `repeats` and `lengthMm` the one that is set takes the other back. Rule D51. */
export function prepareSetPiece(context: CommandContext, { patch }: Of<'set-piece'>): Prepared {
  const fault = checkFields('patch', patch);
  if (fault !== null) return fault;
  const isRepeats = patch.repeats !== undefined && patch.repeats !== null;
  const isLength = patch.lengthMm !== undefined && patch.lengthMm !== null;
  if (isRepeats && isLength)
    return refuse(
      'out-of-range',
      'patch.lengthMm',
      { be: 'unset-beside', other: 'piece.repeats' },
      patch.lengthMm,
    );
  const { rows } = context.shape;
  if (typeof patch.leadInRows === 'number' && patch.leadInRows > rows)
    return refuse(
      'out-of-range',
      'patch.leadInRows',
      { be: 'whole', least: 0, most: rows },
      patch.leadInRows,
    );
  const whole = { ...patch, ...(isRepeats ? { lengthMm: null } : isLength ? { repeats: null } : {}) };
  return prepareTable(context, 'piece', whole, PIECE_FIELDS);
}

/** Where anything differs, all fields told are written: of two fits made at once one then counts as a whole. Rule D52. */
export function prepareSetGauge(context: CommandContext, { patch }: Of<'set-gauge'>): Prepared {
  const fault = checkFields('patch', patch);
  if (fault !== null) return fault;
  const prepared = prepareTable(context, 'gauge', patch, GAUGE_FIELDS);
  if (!prepared.ok || prepared.writes.length === 0) return prepared;
  return writeSet(
    Object.entries(patch)
      .filter(([, value]) => value !== undefined)
      .map(([name, value]) => set(context.roots.meta, scoped(context.scope.board, `gauge.${name}`), value)),
  );
}

function prepareTable(
  context: CommandContext,
  table: 'piece' | 'gauge',
  patch: object,
  rules: Readonly<Record<string, FieldRule>>,
): Prepared {
  const writes: Write[] = [];
  for (const [name, value] of Object.entries(patch)) {
    const rule = Object.hasOwn(rules, name) ? rules[name] : undefined;
    if (rule === undefined)
      return refuse('unknown-field', `patch.${show(name)}`, `is no field of the ${table}`);
    if (value === undefined) continue;
    const demand = value === null ? null : demandOf(rule, value);
    if (demand !== null) return refuse('out-of-range', `patch.${name}`, demand, value);
    const key = scoped(context.scope.board, `${table}.${name}`);
    if ((context.roots.meta.get(key) ?? null) !== value) writes.push(set(context.roots.meta, key, value));
  }
  return writeSet(writes);
}
