/** Computes changes of the palette. */
import { MAX_COLOURS, MAX_NAME_CHARACTERS } from '../files/index.ts';
import { demandOfText } from '../pattern/index.ts';
import type { Command } from './command.ts';
import { isKnown } from './prepare-pairs.ts';
import { stringWrite, unknownColour } from './prepare-string-colours.ts';
import { isColourId } from './read-colours.ts';
import { scoped, takeId } from './schema.ts';
import { readHex } from './text.ts';
import { type CommandContext, isWhole, type Prepared, refuse, show, writeSet } from './write-set.ts';
import { removeAll, set, type Write } from './writes.ts';

type Of<K extends Command['kind']> = Extract<Command, { kind: K }>;
type Refusal = ReturnType<typeof refuse>;

/** Rule D62. */
export function prepareAddColour(context: CommandContext, command: Of<'add-colour'>): Prepared {
  const { roots, scope, colours } = context;
  const fault = checkName('name', command.name) ?? checkHex('hex', command.hex);
  if (fault !== null) return fault;
  if (colours.palette.length >= MAX_COLOURS)
    return refuse('limit', '', { be: 'most-colours', most: MAX_COLOURS }, MAX_COLOURS + 1);
  const id = command.id ?? takeId(context.newId);
  if (!isColourId(id)) return refuse('out-of-range', 'id', { be: 'id' }, id);
  if (isKnown(context, id)) return refuse('duplicate-id', 'id', `${show(id)} is in the palette`);
  return writeSet([
    // The stand-in of an empty palette is appended before this write.
    insertColour(context, roots.paletteOrder.length + (colours.isStandIn ? 1 : 0), id),
    set(roots.palette, scoped(scope.board, `${id}:name`), command.name),
    set(roots.palette, scoped(scope.board, `${id}:hex`), readHex(command.hex)),
  ]);
}

/** Rule D63. */
export function prepareEditColour(context: CommandContext, { id, name, hex }: Of<'edit-colour'>): Prepared {
  const { roots, scope, board } = context;
  const present = board.palette.find((colour) => colour.id === id);
  if (present === undefined) return unknownColour('id', id);
  const fault =
    (name === undefined ? null : checkName('name', name)) ??
    (hex === undefined ? null : checkHex('hex', hex));
  if (fault !== null) return fault;
  const writes: Write[] = [];
  if (name !== undefined && name !== present.name)
    writes.push(set(roots.palette, scoped(scope.board, `${id}:name`), name));
  if (hex !== undefined && readHex(hex) !== present.hex)
    writes.push(set(roots.palette, scoped(scope.board, `${id}:hex`), readHex(hex)));
  return writeSet(writes);
}

/** What replaces the colour is noted, for strings that somebody else gives it at the same time. Rule D64. */
export function prepareRemoveColour(
  context: CommandContext,
  { id, replaceWith }: Of<'remove-colour'>,
): Prepared {
  const { roots, scope } = context;
  if (!isKnown(context, id)) return unknownColour('id', id);
  if (!isKnown(context, replaceWith)) return unknownColour('replaceWith', replaceWith);
  if (id === replaceWith) return refuse('out-of-range', 'replaceWith', 'must be another colour');
  return writeSet([
    ...removeAll(roots.paletteOrder, new Set([scoped(scope.board, id)])),
    set(roots.palette, scoped(scope.board, `${id}:instead`), replaceWith),
    ...context.colours.ofPairs.flatMap((colour, string) =>
      colour === id ? [stringWrite(context, string, replaceWith)] : [],
    ),
  ]);
}

/** Rule D65. */
export function prepareMoveColour(context: CommandContext, { id, to }: Of<'move-colour'>): Prepared {
  const { roots, scope, colours } = context;
  const from = colours.palette.findIndex((colour) => colour.id === id);
  if (from < 0) return unknownColour('id', id);
  if (!isWhole(to, 0, colours.palette.length - 1))
    return refuse('out-of-range', 'to', `${show(to)} is outside 0 to ${colours.palette.length - 1}`);
  if (from === to) return writeSet([]);
  const entry = scoped(scope.board, id);
  const rest = roots.paletteOrder.toArray().filter((other) => other !== entry);
  const others = colours.palette.filter((colour) => colour.id !== id);
  const next = others[to];
  const at = next === undefined ? rest.length : rest.indexOf(scoped(scope.board, next.id));
  return writeSet([
    ...removeAll(roots.paletteOrder, new Set([entry])),
    insertColour(context, at < 0 ? rest.length : at, id),
  ]);
}

function insertColour({ roots, scope }: CommandContext, at: number, id: string): Write {
  return { do: 'insert', list: roots.paletteOrder, at, ids: [scoped(scope.board, id)] };
}

/** Why a name cannot be one; null when it can. */
export function checkName(path: string, name: unknown): Refusal | null {
  if (typeof name !== 'string') return refuse('wrong-type', path, 'must be text');
  if (name.length > MAX_NAME_CHARACTERS)
    return refuse(
      'out-of-range',
      path,
      { be: 'characters', least: 0, most: MAX_NAME_CHARACTERS },
      name.length,
    );
  const demand = demandOfText(name);
  return demand === null ? null : refuse('out-of-range', path, demand, name);
}

/** Why a colour cannot be one; null when it can. */
export function checkHex(path: string, hex: unknown): Refusal | null {
  return readHex(hex) === null ? refuse('out-of-range', path, { be: 'hex' }, hex) : null;
}
