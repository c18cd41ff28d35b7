import { describe, expect, it } from 'vitest';
import { type Drawing, drawRows, drawStrokes, enlarge, turnRight } from '../../../engine/motif/drawing.ts';

const at = ({ lozenges }: Drawing): string[] => lozenges.map(({ x, y }) => `${x},${y}`);

describe('drawings on lozenges', () => {
  it('[J70] strokes take the lozenges that their lines run through, each once', () => {
    expect(at(drawStrokes('0,0 4,0 4,4; 4,4 2,2'))).toEqual([
      '0,0',
      '2,0',
      '4,0',
      '2,2',
      '4,2',
      '3,3',
      '4,4',
    ]);
    expect(at(drawStrokes('1,1'))).toEqual(['1,1']);
    const { left, right, top, bottom } = drawStrokes('3,1 -1,5');
    expect([left, right, top, bottom]).toEqual([-1, 3, 1, 5]);
  });

  it('[J70] a line that runs along no lozenges is the drawer’s bug, and so is a point between them', () => {
    expect(() => drawStrokes('0,0 2,4')).toThrow(/0,0 to 2,4/);
    expect(() => drawStrokes('0,0 0,1')).toThrow(/0,0 to 0,1/);
    expect(() => drawStrokes('1,0')).toThrow(/1,0/);
    expect(() => drawStrokes('a,0')).toThrow(/a,0/);
    expect(() => drawRows(['    '])).toThrow(/one lozenge/);
    expect(() => drawRows([' o'])).toThrow(/1,0/);
  });

  it('[J74] enlarged, each lozenge is one of size by size lozenges: its outline is the same', () => {
    const figure = drawRows(['o o  ', ' o   ', '    o']);
    const twice = enlarge(figure, 2);
    expect(at(enlarge(figure, 1))).toEqual(at(figure));
    expect(twice.lozenges).toHaveLength(4 * figure.lozenges.length);
    // A point is inside the larger figure exactly where the point half as far away is inside the small one.
    const covers = ({ lozenges }: Drawing, px: number, py: number): boolean =>
      lozenges.some(({ x, y }) => Math.abs(px - x) + Math.abs(py - y) < 1);
    let inside = 0;
    for (let px = -3.3; px < 14; px += 0.61)
      for (let py = -3.2; py < 12; py += 0.53) {
        const isIn = covers(figure, px / 2, (py - 1) / 2);
        // Twice as large about the upper tip of the lozenge at 0,0, which is at 0,-1.
        expect(covers(twice, px, py), `${px},${py}`).toBe(isIn);
        if (isIn) inside += 1;
      }
    expect(inside).toBeGreaterThan(20);
  });

  it('[J74] turned to the right four times it is what it was, and its head lies at the right', () => {
    const flag = drawRows(['o o o', ' o   ', 'o    ']);
    const turned = turnRight(flag);
    expect(at(turnRight(turnRight(turnRight(turned))))).toEqual(at(flag));
    expect(at(turned)).toContain('0,4');
    expect(turned.left).toBe(-2);
  });
});
