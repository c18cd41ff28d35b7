/** Prepares what no board is tied with, so that a page can fetch it with what shows it. */
import { checkPattern } from './check-pattern.ts';
import type { Command } from './command.ts';
import {
  prepareAddColour,
  prepareEditColour,
  prepareMoveColour,
  prepareRemoveColour,
} from './prepare-colours.ts';
import { preparePutColourway, prepareRemoveColourway } from './prepare-colourways.ts';
import { leadInWrites } from './lead-in-writes.ts';
import { prepareSetGauge, prepareSetPiece, prepareSetTitle } from './prepare-meta.ts';
import { takeId, writeScope } from './schema.ts';
import { patternWrites } from './write-pattern.ts';
import { type CommandContext, type Prepared, refuse, refuseFault, show, writeSet } from './write-set.ts';
import { set } from './writes.ts';

/** Commands beyond those that tie, colour strings, and put in and take out rows and strings. */
export const LATER_COMMANDS = { prepareLater } as const;
/** What {@link LATER_COMMANDS} holds. */
export type LaterCommands = typeof LATER_COMMANDS;

function prepareLater(context: CommandContext, command: Command): Prepared {
  switch (command.kind) {
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
