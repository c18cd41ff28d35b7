/** The drawings of the help page: they are those of the board, and each has a name. */
import { beforeAll, describe, expect, it } from 'vitest';
import { inkOn, type KnotCode } from '../../../engine/index.ts';
import {
  crossingDrawing,
  headDrawing,
  knotDrawing,
  nestedDrawing,
  triangleDrawing,
} from '../../../web/pages/help-drawings.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { elementsOf, type TemplateElement } from '../../support/template-elements.ts';

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
      knotDrawing(1, 'forward'),
      knotDrawing(2, 'backward'),
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

  it('[X66] of knots are those of the board: which string lies on top, and to which side the strokes lean', () => {
    // Forward: the left string ties over the right one and shows; its half hitches lean like a backslash.
    const seen = ([1, 2, 3, 4] as const).map((code) => {
      const [lozenge] = byClass(knotDrawing(code, 'x'), 'line');
      const [under, over, strokes] = coloured(knotDrawing(code, 'x'));
      const leans = [...strokes!.attributes.d!.matchAll(/M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)/g)].map(
        ([, ...ends]) => {
          const [x0, y0, x1, y1] = ends.map(Number) as [number, number, number, number];
          return (x1 - x0) * (y1 - y0) > 0 ? '\\' : '/';
        },
      );
      const [from, to] = [numbers(over!.attributes.d!)[0]!, numbers(over!.attributes.d!).at(-2)!];
      expect(strokes!.attributes.stroke).toBe(inkOn(lozenge!.attributes.fill!));
      expect(under!.attributes.stroke).not.toBe(over!.attributes.stroke);
      return {
        isTopLeft: from < 45,
        doesReturn: Math.abs(from - to) < 25,
        showsTop: over!.attributes.stroke === lozenge!.attributes.fill,
        leans: leans.join(' '),
        ofLeft: (from < 45 ? over : under)!.attributes.stroke,
      };
    });
    // The string that comes in on the left has one colour in all four.
    expect(new Set(seen.map(({ ofLeft }) => ofLeft)).size).toBe(1);
    expect(seen.map(({ ofLeft: _, ...rest }) => rest)).toEqual([
      { isTopLeft: true, doesReturn: false, showsTop: true, leans: '\\ \\' },
      { isTopLeft: false, doesReturn: false, showsTop: true, leans: '/ /' },
      { isTopLeft: true, doesReturn: true, showsTop: true, leans: '\\ /' },
      { isTopLeft: false, doesReturn: true, showsTop: true, leans: '/ \\' },
    ]);
    expect(() => knotDrawing(0, 'untied')).toThrow(RangeError);
    expect(() => knotDrawing(5 as KnotCode, 'x')).toThrow();
  });

  it('of a knot go from the top to the bottom, with an edge that shows on any ground', () => {
    const template = knotDrawing(3, 'x');
    const edges = byClass(template, 'edge');
    const cords = coloured(template).slice(0, 2);
    expect(edges.map(({ attributes }) => attributes.d)).toEqual(cords.map(({ attributes }) => attributes.d));
    for (const [i, { attributes }] of cords.entries()) {
      expect([numbers(attributes.d!)[1], numbers(attributes.d!).at(-1)]).toEqual([10, 110]);
      expect(Number(edges[i]!.attributes['stroke-width'])).toBeGreaterThan(
        Number(attributes['stroke-width']),
      );
    }
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
