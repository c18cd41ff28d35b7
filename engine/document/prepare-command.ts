/** Prepares a command: its write set against the document as it stands, or a refusal. Writes nothing. */

import { checkPattern } from './check-pattern.ts';
import type { Command } from './command.ts';
import {
  prepareAddColour,
  prepareEditColour,
  prepareMoveColour,
  prepareRecolour,
  prepareRemoveColour,
  prepareSwap,
} from './prepare-colours.ts';
import { preparePutColourway, prepareRemoveColourway } from './prepare-colourways.ts';
import { prepareSetKnots } from './prepare-knots.ts';
import { leadInWrites, prepareSetGauge, prepareSetPiece, prepareSetTitle } from './prepare-meta.ts';
import {
  prepareDeleteRows,
  prepareDeleteStrings,
  prepareInsertRows,
  prepareInsertStrings,
  prepareSetEnds,
} from './prepare-pairs.ts';
import { colourKey, scoped, takeId, writeScope } from './schema.ts';
import { patternWrites } from './write-pattern.ts';
import {
  type CommandContext,
  checkFields,
  type Prepared,
  refuse,
  refuseFault,
  show,
  writeSet,
} from './write-set.ts';
import { set, type Write } from './writes.ts';

/** All writes of a command, or why it is refused. */
export function prepareCommand(context: CommandContext, command: Command): Prepared {
  const fault = checkFields('', command);
  if (fault !== null) return fault;
  const prepared = prepareAlone(context, command);
  if (!prepared.ok || prepared.writes.length === 0 || command.kind === 'load-board') return prepared;
  // They write whole lists, stand-ins included, and what stood there before.
  if (command.kind === 'apply-changes' || command.kind === 'take-back') return prepared;
  return { ...prepared, writes: [...standInWrites(context, command), ...prepared.writes] };
}

function prepareAlone(context: CommandContext, command: Command): Prepared {
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
    case 'add-colour':
      return prepareAddColour(context, command);
    case 'edit-colour':
      return prepareEditColour(context, command);
    case 'remove-colour':
      return prepareRemoveColour(context, command);
    case 'move-colour':
      return prepareMoveColour(context, command);
    case 'set-title':
      return prepareSetTitle(context, command);
    case 'set-piece':
      return prepareSetPiece(context, command);
    case 'set-gauge':
      return prepareSetGauge(context, command);
    case 'put-colourway':
      return preparePutColourway(context, command);
    case 'remove-colourway':
      return prepareRemoveColourway(context, command);
    case 'replace-pattern':
      return prepareReplacePattern(context, command);
    case 'load-board':
      return command.prepare(context, command.board);
    case 'apply-changes':
      return command.prepare(context, command.changes, command.toward);
    case 'take-back':
      return command.prepare(context, command.edit);
    default:
      return refuse('unknown-command', 'kind', `${show((command as { kind: unknown }).kind)} is no command`);
  }
}

/** A new pattern id; the board id stays, and with it palette, title and the rest. Rule D70. */
function prepareReplacePattern(
  context: CommandContext,
  { pattern }: Extract<Command, { kind: 'replace-pattern' }>,
): Prepared {
  const fault = checkPattern(pattern, new Set(context.board.palette.map(({ id }) => id)), 'pattern');
  if (fault !== null) return refuseFault(fault);
  const id = takeId(context.newId);
  const value = writeScope({ board: context.scope.board, pattern: id });
  return writeSet(
    [
      set(context.roots.meta, 'generation', value),
      ...leadInWrites(context, context.board.piece.leadInRows ?? 0, pattern.rows),
    ],
    patternWrites(context.roots, id, pattern),
  );
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
