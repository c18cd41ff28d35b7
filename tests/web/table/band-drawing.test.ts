import { describe, expect, it } from 'vitest';
import { knotsInRow, rowParity } from '../../../engine/index.ts';
import { bandDrawing, knotAt } from '../../../web/table/band-drawing.ts';
import { markupOf } from '../../support/template-text.ts';

const SCENE = { strings: 6, start: 1, from: 3, to: 7 } as const;
const drawn = (more: object = {}): string =>
  markupOf(bandDrawing({ ...SCENE, label: 'Band', hexAt: (row) => (row === 4 ? null : '#112233'), ...more }));
const count = (text: string, what: string): number => text.split(what).length - 1;
/** The knots of the rows drawn. */
const KNOTS = [3, 4, 5, 6].flatMap((row) =>
  Array.from({ length: knotsInRow(6, rowParity(1, row)) }, (_, k) => ({ row, k })),
);

describe('a stretch of a band', () => {
  it('[N47] has a lozenge for each knot of its rows, dashed and empty where none shows, what is marked crossed', () => {
    const text = drawn({
      isMarked: (row: number, k: number) => row === 5 && k === 1,
      picked: { row: 6, k: 0 },
    });
    expect(count(text, 'class="cord"')).toBe(KNOTS.length);
    expect(count(text, 'fill=#112233')).toBe(KNOTS.filter(({ row }) => row !== 4).length);
    expect(count(text, 'stroke-dasharray=1 2')).toBe(KNOTS.filter(({ row }) => row === 4).length);
    expect(count(text, 'stroke="#000"')).toBe(1);
    expect(count(text, 'stroke="var(--lb-accent)"')).toBe(1);
    expect(text).toContain('aria-label=Band');
  });

  it('[N102] seen from opposite it is turned by half, and a touch is of the knot that is seen there', () => {
    const scene = { strings: 4, start: 0, from: 0, to: 2, isTurned: true } as const;
    const text = markupOf(bandDrawing({ ...scene, label: 'Band', hexAt: () => '#123456' }));
    expect(count(text, 'rotate(180')).toBe(1);
    const box = { width: 440, height: 340 };
    // The first knot of the first row: the middle of its lozenge is 12 and 12 from the corner that is below on the right then.
    expect(knotAt(scene, box, 440 - 120, 340 - 120)).toEqual({ row: 0, k: 0 });
    expect(knotAt({ ...scene, isTurned: false }, box, 120, 120)).toEqual({ row: 0, k: 0 });
  });

  it('[N45] a touch is of the knot in whose lozenge it is, however the drawing lies in its box; between knots of none', () => {
    for (const box of [
      { width: 64, height: 54 },
      { width: 640, height: 900 },
      { width: 1000, height: 108 },
    ]) {
      const scale = Math.min(box.width / 64, box.height / 54);
      const at = (row: number, place: number, dx = 0, dy = 0) =>
        knotAt(
          SCENE,
          box,
          (box.width - 64 * scale) / 2 + (10 * (place + 1) + 2 + dx) * scale,
          (box.height - 54 * scale) / 2 + (10 * (row - 3 + 1) + 2 + dy) * scale,
        );
      for (const { row, k } of KNOTS) {
        const place = 2 * k + rowParity(1, row);
        for (const [dx, dy] of [
          [0, 0],
          [8, 0],
          [-8, 0],
          [0, 8],
          [0, -8],
          [4, 4],
        ])
          expect(at(row, place, dx, dy)).toEqual({ row, k });
      }
      // Where two lozenges meet a touch may be of either.
      expect(at(3, -1, -1)).toBeNull();
      expect(at(6, 2, 0, 11)).toBeNull();
      expect(at(3, 2, 0, -11)).toBeNull();
    }
  });
});
