/** Prepares a command: its write set against the document as it stands, or a refusal. Writes nothing. */

import type { Command } from './command.ts';
import { prepareRecolour, prepareSwap } from './prepare-string-colours.ts';
import type { LaterCommands } from './later-commands.ts';
import { prepareSetKnots } from './prepare-knots.ts';
import {
  prepareDeleteRows,
  prepareDeleteStrings,
  prepareInsertRows,
  prepareInsertStrings,
  prepareSetEnds,
} from './prepare-pairs.ts';
import { colourKey, scoped } from './schema.ts';
import { type CommandContext, checkFields, type Prepared, show } from './write-set.ts';
import { set, type Write } from './writes.ts';

/**
 * All writes of a command, or why it is refused.
 * @param later null where only what tying needs is there
 * @throws TypeError where it would be needed
 */
export function prepareCommand(
  context: CommandContext,
  command: Command,
  later: LaterCommands | null,
): Prepared {
  const fault = checkFields('', command);
  if (fault !== null) return fault;
  const prepared = prepareAlone(context, command, later);
  if (!prepared.ok || prepared.writes.length === 0 || command.kind === 'load-board') return prepared;
  // They write whole lists, stand-ins included, and what stood there before.
  if (command.kind === 'apply-changes' || command.kind === 'take-back') return prepared;
  return { ...prepared, writes: [...standInWrites(context, command), ...prepared.writes] };
}

function prepareAlone(context: CommandContext, command: Command, later: LaterCommands | null): Prepared {
  switch (command.kind) {
    case 'set-knots':
      return prepareSetKnots(context, command);
    case 'insert-row-pairs':
      return prepareInsertRows(context, command);
    case 'delete-row-pairs':
      return prepareDeleteRows(context, command);
    case 'insert-string-pairs':
      return prepareInsertStrings(context, command);
    case 'delete-string-pairs':
      return prepareDeleteStrings(context, command);
    case 'set-ends':
      return prepareSetEnds(context, command);
    case 'recolour-strings':
      return prepareRecolour(context, command);
    case 'swap-colours':
      return prepareSwap(context, command);
    case 'set-thread':
      return command.prepare(context, command);
    case 'set-part':
      return command.prepare(context, command);
    case 'load-board':
      return command.prepare(context, command.board);
    case 'apply-changes':
      return command.prepare(context, command.changes, command.toward);
    case 'take-back':
      return command.prepare(context, command.edit);
    default:
      if (later === null)
        throw new TypeError(`what prepares ${show((command as { kind: unknown }).kind)} was not given`);
      return later.prepareLater(context, command);
  }
}

/**
 * Puts the pair or colour that stands in for an empty list into it, so that what the command writes has something to
 * belong to. Two makers who do it at once write the same id, and an id that stands twice reads as once. Rule D14.
 */
function standInWrites({ roots, shape, colours, scope, board }: CommandContext, command: Command): Write[] {
  const writes: Write[] = [];
  if (colours.isStandIn) {
    const { id, name, hex } = board.palette[0]!;
    writes.push(
      {
        do: 'insert',
        list: roots.paletteOrder,
        at: roots.paletteOrder.length,
        ids: [scoped(scope.board, id)],
      },
      set(roots.palette, scoped(scope.board, `${id}:name`), name),
      set(roots.palette, scoped(scope.board, `${id}:hex`), hex),
    );
  }
  if (shape.isStandIn && command.kind !== 'replace-pattern') {
    const pair = shape.stringPairIds[0]!;
    writes.push({ do: 'insert', list: roots.stringPairs, at: roots.stringPairs.length, ids: [pair] });
    for (const side of [0, 1] as const)
      writes.push(set(roots.colours, colourKey(pair, side), colours.ofPairs[side]!));
  }
  return writes;
}
