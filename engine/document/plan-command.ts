/** Computes a command against the document as it stands. Writes nothing. */

import { checkBoard, checkPattern } from './check-board.ts';
import type { Command } from './command.ts';
import { type Planned, plan, refuse, refuseFault, type Scene, show } from './plan.ts';
import {
  planAddColour,
  planEditColour,
  planMoveColour,
  planRecolour,
  planRemoveColour,
  planSwap,
} from './plan-colours.ts';
import { planPutColourway, planRemoveColourway } from './plan-colourways.ts';
import { planSetKnots } from './plan-knots.ts';
import { leadInWrites, planSetGauge, planSetPiece, planSetTitle } from './plan-meta.ts';
import {
  planDeleteRows,
  planDeleteStrings,
  planInsertRows,
  planInsertStrings,
  planSetEnds,
} from './plan-pairs.ts';
import { colourKey, DOCUMENT_VERSION, scoped, takeId, writeScope } from './schema.ts';
import { boardWrites, patternWrites } from './write-board.ts';
import { set, type Write } from './writes.ts';

/** All writes of a command, or why it is refused. */
export function planCommand(scene: Scene, command: Command): Planned {
  const planned = planAlone(scene, command);
  if (!planned.ok || planned.writes.length === 0 || command.kind === 'load-board') return planned;
  // It writes whole lists, stand-ins included.
  if (command.kind === 'apply-changes') return planned;
  return { ...planned, writes: [...standInWrites(scene, command), ...planned.writes] };
}

function planAlone(scene: Scene, command: Command): Planned {
  switch (command.kind) {
    case 'set-knots':
      return planSetKnots(scene, command);
    case 'insert-row-pairs':
      return planInsertRows(scene, command);
    case 'delete-row-pairs':
      return planDeleteRows(scene, command);
    case 'insert-string-pairs':
      return planInsertStrings(scene, command);
    case 'delete-string-pairs':
      return planDeleteStrings(scene, command);
    case 'set-ends':
      return planSetEnds(scene, command);
    case 'recolour-strings':
      return planRecolour(scene, command);
    case 'swap-colours':
      return planSwap(scene, command);
    case 'add-colour':
      return planAddColour(scene, command);
    case 'edit-colour':
      return planEditColour(scene, command);
    case 'remove-colour':
      return planRemoveColour(scene, command);
    case 'move-colour':
      return planMoveColour(scene, command);
    case 'set-title':
      return planSetTitle(scene, command);
    case 'set-piece':
      return planSetPiece(scene, command);
    case 'set-gauge':
      return planSetGauge(scene, command);
    case 'put-colourway':
      return planPutColourway(scene, command);
    case 'remove-colourway':
      return planRemoveColourway(scene, command);
    case 'replace-pattern':
      return planReplacePattern(scene, command);
    case 'load-board':
      return planLoadBoard(scene, command);
    case 'apply-changes':
      return command.plan(scene, command.changes, command.toward);
    default:
      return refuse('unknown-command', 'kind', `${show((command as { kind: unknown }).kind)} is no command`);
  }
}

/** A new pattern id; the board id stays, and with it palette, title and the rest. Rule D70. */
function planReplacePattern(
  scene: Scene,
  { pattern }: Extract<Command, { kind: 'replace-pattern' }>,
): Planned {
  const fault = checkPattern(pattern, new Set(scene.board.palette.map(({ id }) => id)), 'pattern');
  if (fault !== null) return refuseFault(fault);
  const id = takeId(scene.newId);
  const value = writeScope({ board: scene.scope.board, pattern: id });
  return plan(
    [
      set(scene.roots.meta, 'generation', value),
      ...leadInWrites(scene, scene.board.piece.leadInRows ?? 0, pattern.rows),
    ],
    patternWrites(scene.roots, id, pattern),
  );
}

/** New board and pattern ids. Rule D71. */
function planLoadBoard(
  { roots, newId }: Scene,
  { board }: Extract<Command, { kind: 'load-board' }>,
): Planned {
  const fault = checkBoard(board);
  if (fault !== null) return refuseFault(fault, 'board.');
  const scope = { board: takeId(newId), pattern: takeId(newId) };
  const founding = [
    ...boardWrites(roots, scope.board, board),
    ...patternWrites(roots, scope.pattern, board.pattern),
  ];
  if (roots.meta.get('version') !== DOCUMENT_VERSION)
    founding.unshift(set(roots.meta, 'version', DOCUMENT_VERSION));
  return plan([set(roots.meta, 'generation', writeScope(scope))], founding);
}

/**
 * Puts the pair or colour that stands in for an empty list into it, so that what the command writes has something to
 * belong to. Two makers who do it at once write the same id, and an id that stands twice reads as once. Rule D14.
 */
function standInWrites({ roots, shape, colours, scope, board }: Scene, command: Command): Write[] {
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
