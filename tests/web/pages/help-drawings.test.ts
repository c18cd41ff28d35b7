/** The drawings of the help page: they are those of the board, and each has a name. */
import { beforeAll, describe, expect, it } from 'vitest';
import { inkOn } from '../../../engine/index.ts';
import {
  crossingDrawing,
  headDrawing,
  knotDrawing,
  nestedDrawing,
  triangleDrawing,
} from '../../../web/pages/help-drawings.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { elementsOf, type TemplateElement } from '../../support/template-elements.ts';

const KNOTS = [
  ['f', 1],
  ['b', 2],
  ['fb', 3],
  ['bf', 4],
] as const;

beforeAll(() => loadTexts('help'));

const paths = (template: unknown): readonly TemplateElement[] =>
  elementsOf(template).filter(({ tag }) => tag === 'path');
const byClass = (template: unknown, name: string): readonly TemplateElement[] =>
  paths(template).filter(({ attributes }) => attributes.class === name);
const coloured = (template: unknown): readonly TemplateElement[] =>
  paths(template).filter(({ attributes }) => attributes.stroke?.startsWith('#'));
const numbers = (d: string): readonly number[] => [...d.matchAll(/-?[\d.]+/g)].map(([one]) => Number(one));

describe('drawings of the help page', () => {
  it('[X65] each has a name of its own', () => {
    const names = [
      knotDrawing('f', 1, 'forward'),
      knotDrawing('b', 2, 'backward'),
      headDrawing(),
      nestedDrawing(),
      crossingDrawing(),
      triangleDrawing(),
    ].map((drawing) => {
      const [{ attributes }] = elementsOf(drawing) as [TemplateElement];
      expect([attributes.role, attributes['aria-label']!.length > 20]).toEqual(['img', true]);
      return attributes['aria-label'];
    });
    expect(new Set(names).size).toBe(6);
    expect(names[0]).toMatch(/^forward/);
  });

  it('[X66] of knots are those of the board: the colour that shows, and to which side the strokes lean; [N70] beside them two half hitches', () => {
    const seen = KNOTS.map(([kind, code]) => {
      const drawing = knotDrawing(kind, code, 'x');
      const [lozenge] = byClass(drawing, 'line');
      const strokes = coloured(drawing).at(-1)!;
      const leans = [...strokes.attributes.d!.matchAll(/M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)/g)].map(
        ([, ...ends]) => {
          const [x0, y0, x1, y1] = ends.map(Number) as [number, number, number, number];
          return (x1 - x0) * (y1 - y0) > 0 ? '\\' : '/';
        },
      );
      const hitches = elementsOf(drawing).filter(({ attributes }) => attributes.class === 'hitch');
      const cords = byClass(drawing, 'cord');
      const carriers = cords.filter(({ attributes }) => attributes.d!.startsWith('M50 0'));
      const first = cords.find(({ attributes }) => /^M(14|86) 0/.test(attributes.d!))!;
      expect(strokes.attributes.stroke).toBe(inkOn(lozenge!.attributes.fill!));
      expect([hitches.length, carriers.length]).toEqual([2, 2]);
      expect(carriers[0]!.attributes.stroke).not.toBe(lozenge!.attributes.fill);
      return {
        comesFromLeft: numbers(first.attributes.d!)[0]! < 50,
        shows: first.attributes.stroke === lozenge!.attributes.fill,
        leans: leans.join(' '),
        ofLeft: (numbers(first.attributes.d!)[0]! < 50 ? first : carriers[0]!).attributes.stroke,
      };
    });
    // The string that comes in on the left has one colour in all four.
    expect(new Set(seen.map(({ ofLeft }) => ofLeft)).size).toBe(1);
    expect(seen.map(({ ofLeft: _, ...rest }) => rest)).toEqual([
      { comesFromLeft: true, shows: true, leans: '\\ \\' },
      { comesFromLeft: false, shows: true, leans: '/ /' },
      { comesFromLeft: true, shows: true, leans: '\\ /' },
      { comesFromLeft: false, shows: true, leans: '/ \\' },
    ]);
  });

  it('of mounting: nested arcs have no fault, crossing ones have theirs where they cross', () => {
    const arcs = (template: unknown): readonly (readonly [number, number])[] =>
      coloured(template).map(({ attributes }) => {
        const [from, to] = /^M(\d+) .*? (\d+) \d+V\d+$/.exec(attributes.d!)!.slice(1).map(Number);
        return [from!, to!];
      });
    const crossings = (all: readonly (readonly [number, number])[]): number =>
      all.flatMap(([a, b]) => all.filter(([c, d]) => a < c && c < b && b < d)).length;
    expect([
      arcs(nestedDrawing()).length,
      crossings(arcs(nestedDrawing())),
      byClass(nestedDrawing(), 'fault').length,
    ]).toEqual([3, 0, 0]);
    expect(crossings(arcs(crossingDrawing()))).toBe(1);
    const [fault] = byClass(crossingDrawing(), 'fault');
    const [[, first], [second]] = arcs(crossingDrawing()) as [[number, number], [number, number]];
    const middle = numbers(fault!.attributes.d!)[0]! + 10;
    expect([middle > second, middle < first]).toEqual([true, true]);
  });

  it('of the head: one string on both sides of two others, its loop over the bar', () => {
    const cords = coloured(headDrawing());
    const [loop, left, right] = cords;
    expect(left!.attributes.stroke).not.toBe(loop!.attributes.stroke);
    expect(right!.attributes.stroke).toBe(left!.attributes.stroke);
    const ends = cords.filter(({ attributes }) => /^M\d+ 34V118$/.test(attributes.d!));
    expect(ends.map(({ attributes }) => numbers(attributes.d!)[0])).toEqual([88, 112, 58, 142]);
    expect(byClass(headDrawing(), 'bar')).toHaveLength(1);
  });

  it('of the triangle end: one knot fewer in each row, under the gaps of the row above', () => {
    const knots = byClass(triangleDrawing(), 'line').map(
      ({ attributes }) => numbers(attributes.d!).slice(0, 2) as [number, number],
    );
    const rows = [...new Set(knots.map(([, y]) => y))].map((y) => knots.filter((knot) => knot[1] === y));
    expect(rows.map(({ length }) => length)).toEqual([5, 4, 3, 2, 1]);
    for (const [i, row] of rows.entries())
      if (i > 0)
        for (const [k, [x]] of row.entries())
          expect(x).toBe((rows[i - 1]![k]![0] + rows[i - 1]![k + 1]![0]) / 2);
  });
});
