/** Puts an answer on the board, as one step of undo. */
import { type CommandError, type Design, LATER_COMMANDS } from '../../engine/document/index.ts';
import { type Board, rowParity, rowStride, type KnotCode } from '../../engine/index.ts';

/** Which knots another board has otherwise, where strings, rows and stagger are the same. */
function changedKnots(
  { pattern }: Board,
  { pattern: next }: Board,
): readonly { readonly row: number; readonly k: number; readonly knot: KnotCode }[] {
  const stride = rowStride(pattern.colours.length);
  const changed: { row: number; k: number; knot: KnotCode }[] = [];
  for (let at = 0; at < next.knots.length; at++)
    if (pattern.knots[at] !== next.knots[at])
      changed.push({ row: Math.floor(at / stride), k: at % stride, knot: next.knots[at] as KnotCode });
  return changed;
}

/** Whether rows and strings stay who they are: then what is pinned to knots stays, and only what differs is written. */
function isSameBand({ pattern: a }: Board, { pattern: b }: Board): boolean {
  return a.rows === b.rows && a.colours.length === b.colours.length && rowParity(a.start, 0) === b.start;
}

/**
 * Ties an answer: knots and colours that differ, or, where it has other rows or strings, the whole pattern with its lead-in rows.
 * @returns what was refused; null = it is on the board
 */
export function takeAnswer(design: Design, answer: Board): CommandError | null {
  design.giveCommands(LATER_COMMANDS);
  const { board } = design.snapshot;
  const close = design.openStep();
  try {
    if (!isSameBand(board, answer)) {
      const replaced = design.run({ kind: 'replace-pattern', pattern: answer.pattern });
      if (!replaced.ok) return replaced.error;
      const { leadInRows = 0 } = answer.piece;
      if (leadInRows === (design.snapshot.board.piece.leadInRows ?? 0)) return null;
      const set = design.run({ kind: 'set-piece', patch: { leadInRows } });
      return set.ok ? null : set.error;
    }
    const byColour = new Map<string, number[]>();
    answer.pattern.colours.forEach((colour, string) => {
      if (board.pattern.colours[string] === colour) return;
      byColour.set(colour, [...(byColour.get(colour) ?? []), string]);
    });
    for (const [colour, strings] of byColour) {
      const recoloured = design.run({ kind: 'recolour-strings', strings, colour });
      if (!recoloured.ok) return recoloured.error;
    }
    const tied = design.run({ kind: 'set-knots', knots: changedKnots(board, answer) });
    return tied.ok ? null : tied.error;
  } finally {
    close();
  }
}
