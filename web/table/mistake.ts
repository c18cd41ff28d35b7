/** A mistake in a piece, and its three ways on: to undo, to leave it, to mend it below. Knows no screen. */
import {
  type AsItStays,
  type Board,
  codesWith,
  type KnotToken,
  knotsInRow,
  type Mistake,
  mistakenKind,
  type OwnWay,
  type Pattern,
  rowParity,
  rowStride,
  stepKey,
  stillNeeded,
  undoKnot,
  weave,
  wholePiece,
  type WorkStep,
} from '../../engine/index.ts';
import type { TableWork } from './table-work.ts';
import { knotSeen, type Sight, sightOf } from './views.ts';

/** What a knot can have been tied as that should have been of this kind. Rule N45. */
export function mistakesFor({ kind }: Pick<WorkStep, 'kind'>): readonly Mistake[] {
  const kinds = (['f', 'b', 'fb', 'bf'] as const).filter((one) => one !== kind);
  return [...kinds, '-', 'exchanged', 'half'];
}

/** What is otherwise than on the board once this mistake is known. */
export function withMistake(
  { kinds }: OwnWay,
  step: WorkStep,
  mistake: Mistake,
): ReadonlyMap<string, KnotToken> {
  return new Map([...kinds, [stepKey(step), mistakenKind(step.kind, mistake)]]);
}

/** Knots of one row that are undone one after the other. */
export interface UndoStretch {
  readonly first: WorkStep;
  /** Numbers of the knots in the row, from 1, in the order in which they are undone. */
  readonly knots: readonly number[];
}

/** The fewest knots to undo, as steps, and what is left tied. Rules N46 and N102. */
export function toUndo(
  { board, steps, at }: TableWork,
  step: WorkStep,
  sight: Sight = sightOf('same'),
): {
  readonly count: number;
  readonly stretches: readonly UndoStretch[];
  readonly tied: ReadonlySet<string>;
} {
  const { undo, tied } = undoKnot(steps, new Set(steps.slice(0, at).map(stepKey)), stepKey(step));
  const stretches: { first: WorkStep; knots: number[] }[] = [];
  for (const one of undo) {
    const last = stretches.at(-1);
    const knot = knotSeen(one, board.pattern, sight);
    if (last !== undefined && last.first.row === one.row) last.knots.push(knot);
    else stretches.push({ first: one, knots: [knot] });
  }
  return { count: undo.length, stretches, tied };
}

/** A string that takes more than it was meant to. */
export interface MoreNeeded {
  /** By its place at the top. */
  readonly string: number;
  readonly moreMm: number;
  /** What of the spare for the fingers is left; less than 0: it does not reach. */
  readonly spareMm: number;
}

/** The greatest need first; what a hand cannot measure is none. Rule N48. */
export function moreNeeded(begun: Board, { moreMm }: AsItStays): readonly MoreNeeded[] {
  const needs = stillNeeded(begun, [], 0);
  return moreMm
    .flatMap((more, string) =>
      more < 0.5 ? [] : [{ string, moreMm: more, spareMm: needs[string]!.spareMm - more }],
    )
    .sort((a, b) => b.moreMm - a.moreMm || a.string - b.string);
}

/** A piece as it shows: the colour of each knot, null where none is tied. */
export interface Shown {
  readonly strings: number;
  readonly start: 0 | 1;
  readonly rows: number;
  readonly colourAt: (row: number, k: number) => string | null;
}

/** O(knots). */
export function showPiece(begun: Board, kinds: ReadonlyMap<string, KnotToken>): Shown {
  const whole = wholePiece(begun);
  const pattern: Pattern = { ...whole.pattern, knots: codesWith(whole, kinds) };
  const { colours, start, rows } = pattern;
  const { shownFlat } = weave(pattern);
  const stride = rowStride(colours.length);
  return {
    strings: colours.length,
    start,
    rows,
    colourAt: (row, k) => colours[shownFlat[row * stride + k]!] ?? null,
  };
}

/** Rows that pictures beside each other show: from above the mistake to below the last knot that differs, no more than fit. Rule N47. */
export function rowsBeside(
  mistakeRow: number,
  meant: Shown,
  others: readonly Shown[],
  most: number,
): readonly [from: number, to: number] {
  const from = Math.max(0, mistakeRow - 2);
  let last = mistakeRow;
  for (let row = mistakeRow; row < Math.min(meant.rows, from + most); row++)
    for (let k = 0; k < knotsInRow(meant.strings, rowParity(meant.start, row)); k++)
      if (others.some(({ colourAt }) => colourAt(row, k) !== meant.colourAt(row, k))) last = row;
  return [from, Math.min(meant.rows, from + most, Math.max(last + 3, from + 8))];
}
