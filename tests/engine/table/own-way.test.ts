import { describe, expect, it } from 'vitest';
import {
  type Board,
  cutList,
  KNOT_TOKENS,
  type KnotToken,
  pieceSize,
  stepKey,
  stillNeeded,
  weave,
  type WorkStep,
  workOrder,
} from '../../../engine/index.ts';
import {
  AS_BOARD,
  backToBoard,
  codesWith,
  nameSteps,
  ownPiece,
  wholePiece,
} from '../../../engine/table/own-way.ts';
import { boardOf, randomBand, seededRandom } from '../../reference/work-bands.ts';

function stepsOf(board: Board): readonly WorkStep[] {
  const order = workOrder(board, { method: 'rows', covers: 'piece' });
  if (!order.ok) throw new Error(order.error.message);
  return order.steps;
}

/** Random pieces with lead-in, several repeats and an end, also asked for by length, and some knots to be tied as another kind. */
function* pieces(seed: number, count: number) {
  const random = seededRandom(seed);
  for (let turn = 0; turn < count; turn++) {
    const size = { strings: 3 + Math.floor(random() * 6), rows: 2 + Math.floor(random() * 7) };
    const band = randomBand(random, size, { untied: random() * 0.3, staying: random() });
    const long =
      random() < 0.5 ? { repeats: 1 + Math.floor(random() * 3) } : { lengthMm: 30 + random() * 60 };
    const end = (['straight', 'triangle', 'double triangle'] as const)[turn % 3]!;
    const board = boardOf(band, { ...long, end, leadInRows: Math.floor(random() * 2) });
    const steps = stepsOf(board);
    const kinds = new Map<string, KnotToken>();
    for (let i = 0; i < 3 && steps.length > 0; i++) {
      const step = steps[Math.floor(random() * steps.length)]!;
      // A knot that is tied stays one: what is left out has no step to compare.
      kinds.set(stepKey(step), KNOT_TOKENS[1 + Math.floor(random() * 4)]!);
    }
    yield { board, steps, kinds, random };
  }
}

describe('a keychain made in a way of its own', () => {
  it('[H33] is worked knot by knot as its board, by the same names, in these kinds and with strings that follow them', () => {
    let inEnd = 0;
    for (const { board, steps, kinds } of pieces(33, 120)) {
      const own = ownPiece(board, { kinds, endsAfter: null });
      const named = nameSteps(stepsOf(own.board), own);
      // In which order the knots of a row come is up to their kinds.
      const before = new Map(steps.map((step) => [stepKey(step), step]));
      expect(new Set(named.map(stepKey))).toEqual(new Set(before.keys()));
      for (const step of named) {
        const key = stepKey(step);
        const { row, place, kind } = before.get(key)!;
        expect([step.row, step.place, step.kind]).toEqual([row, place, kinds.get(key) ?? kind]);
      }
      const whole = wholePiece(board);
      const { shown } = weave({ ...whole.pattern, knots: codesWith(whole, kinds) });
      for (const { row, k, knotting } of named) expect(knotting).toBe(shown[row]![k]);
      if ([...kinds.keys()].some((key) => key.startsWith('end'))) inEnd++;
    }
    expect(inEnd).toBeGreaterThan(5);
  });

  it('[H33] needs what the same piece needs where nothing is otherwise', () => {
    for (const { board, steps } of pieces(34, 40)) {
      if (steps.length === 0) continue;
      // A kind that it has already: the same piece, told otherwise.
      const kinds = new Map([[stepKey(steps[0]!), steps[0]!.kind as KnotToken]]);
      const own = ownPiece(board, { kinds, endsAfter: null });
      expect(pieceSize(own.board).rows).toBe(pieceSize(board).rows);
      const at = steps.length >> 1;
      expect(stillNeeded(own.board, nameSteps(stepsOf(own.board), own), at)).toEqual(
        stillNeeded(board, steps, at),
      );
    }
    const { board } = [...pieces(3, 1)][0]!;
    expect(ownPiece(board, AS_BOARD)).toEqual({ board, sources: null });
  });

  it('[H33] ends after fewer rows with the same kind of end', () => {
    for (const { board, random } of pieces(35, 60)) {
      const { rows, endRows, end } = pieceSize(board);
      if (rows === endRows) continue;
      const endsAfter = 1 + Math.floor(random() * (rows - endRows));
      const own = ownPiece(board, { kinds: new Map(), endsAfter });
      const size = pieceSize(own.board);
      expect([size.rows - size.endRows, size.end]).toEqual([endsAfter, end]);
      const named = nameSteps(stepsOf(own.board), own);
      for (const { row, part } of named) expect(part === 'end').toBe(row >= endsAfter);
      expect(named.filter(({ part }) => part !== 'end').map(stepKey)).toEqual(
        stepsOf(board)
          .filter(({ row, part }) => row < endsAfter && part !== 'end')
          .map(stepKey),
      );
      expect(cutList(own.board).ends.length).toBe(board.pattern.colours.length);
    }
  });

  it('[H33] goes back to its board from what is tied on, and refuses what the piece has not', () => {
    const { board, steps } = [...pieces(36, 1)][0]!;
    const [first, second] = steps.map(stepKey) as [string, string];
    const way = {
      kinds: new Map<string, KnotToken>([
        [first, 'fb'],
        [second, 'bf'],
      ]),
      endsAfter: 3,
    };
    expect(backToBoard(way, new Set([first]))).toEqual({ kinds: new Map([[first, 'fb']]), endsAfter: null });
    const odd = (key: string) => () => ownPiece(board, { kinds: new Map([[key, 'f']]), endsAfter: null });
    for (const key of ['band 99 0 0', 'band 1 0 99', 'no knot']) expect(odd(key), key).toThrow(RangeError);
    expect(() => ownPiece(board, { kinds: new Map(), endsAfter: 999 })).toThrow(RangeError);
  });
});
