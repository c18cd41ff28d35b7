/** What a board would show with some knots tied otherwise: the same as when they are. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type KnotCode, knotsInRow, rowParity } from '../../../engine/index.ts';
import { modelOf } from '../../../web/board/board-model.ts';
import { type AheadCell, weaveAhead } from '../../../web/board/weave-ahead.ts';
import { anyPattern } from '../../support/patterns.ts';
import { sampleBoard } from '../../support/sample-board.ts';

describe('what would be tied', () => {
  it('[B384] shows what the board shows once it is', () => {
    let changedBelow = 0;
    fc.assert(
      fc.property(anyPattern({ maxColours: 4 }), fc.infiniteStream(fc.nat()), (pattern, numbers) => {
        const next = (): number => numbers.next().value as number;
        const palette = ['c0', 'c1', 'c2', 'c3'].map((id, i) => ({ id, name: id, hex: `#00000${i}` }));
        const board = { ...sampleBoard(), palette, pattern };
        const strings = pattern.colours.length;
        const stride = strings >> 1;
        const cells = Array.from({ length: pattern.rows }, (_, row) =>
          Array.from({ length: knotsInRow(strings, rowParity(pattern.start, row)) }, (_, k) => ({ row, k })),
        ).flat();
        if (cells.length === 0) return;
        const knots = Array.from({ length: 1 + (next() % 4) }, () => ({
          ...cells[next() % cells.length]!,
          knot: (next() % 5) as KnotCode,
        }));
        const tied = Uint8Array.from(pattern.knots);
        for (const { row, k, knot } of knots) tied[row * stride + k] = knot;
        const before = modelOf(board, null);
        const after = modelOf({ ...board, pattern: { ...pattern, knots: tied } }, null);
        const toRow = next() % (pattern.rows + 2);
        const seen = ({ weave, hexes, board: { pattern: now } }: typeof before, row: number, k: number) => {
          const string = weave.shownFlat[row * stride + k]!;
          return { row, k, knot: now.knots[row * stride + k], hex: string < 0 ? null : hexes[string] };
        };
        const differing = cells
          .filter(({ row }) => row <= toRow)
          .map(({ row, k }) => [seen(before, row, k), seen(after, row, k)] as const)
          .filter(([was, now]) => was.hex !== now.hex || was.knot !== now.knot)
          .map(([, now]) => now);
        const ahead: readonly AheadCell[] = weaveAhead(before, knots, toRow);
        expect(ahead).toEqual(differing);
        changedBelow += ahead.filter(
          ({ row, k }) => !knots.some((one) => one.row === row && one.k === k),
        ).length;
      }),
      { numRuns: 200 },
    );
    expect(changedBelow).toBeGreaterThan(50);
  });
});
