/** Icons: never spoken, all different, and the knots among them as the board draws them. */
import { html } from 'lit';
import { describe, expect, it } from 'vitest';
import { HITCH_STROKES, type KnotCode } from '../../../engine/index.ts';
import { BOARD_ACTIONS } from '../../../web/board/board-actions.ts';
import { icon, knotIcon } from '../../../web/icons/board-icons.ts';
import { pageIcon } from '../../../web/icons/page-icons.ts';
import { PANEL_ICONS } from '../../../web/icons/panel-icons.ts';
import { elementsOf, type TemplateElement } from '../../support/template-elements.ts';

const PAGE_ICONS = ['back', 'undo', 'redo', 'share', 'paper', 'more', 'help', 'set'] as const;
const KNOTS: readonly KnotCode[] = [0, 1, 2, 3, 4];

const svgOf = (template: unknown): TemplateElement => elementsOf(template)[0]!;
const shapesOf = (template: unknown): string =>
  JSON.stringify(
    elementsOf(template)
      .slice(1)
      .map(({ tag, attributes }) => [tag, attributes]),
  );

describe('icons', () => {
  it('are not spoken: the button has the name', () => {
    const board = BOARD_ACTIONS.flatMap((action) => (action.icon === undefined ? [] : [icon(action.icon)]));
    expect(board.length).toBeGreaterThan(15);
    for (const one of [...board, ...PAGE_ICONS.map(pageIcon), ...KNOTS.map(knotIcon)]) {
      expect([svgOf(one).tag, svgOf(one).attributes['aria-hidden']]).toEqual(['svg', 'true']);
      expect(elementsOf(one).length).toBeGreaterThan(1);
    }
  });

  it('[B273] the tools are drawn of lozenges and strings, and a proposal is a second lozenge, dashed', () => {
    // A lozenge: four strokes of one slope, closed.
    const lozenge = /l([\d.]+) \1-\1 \1-\1-\1z/;
    for (const name of 'tie line fill select trace pick pan mirror show swap fit'.split(' ') as never[])
      expect(shapesOf(icon(name)), name).toMatch(lozenge);
    const [solid, dashed] = elementsOf(html`<svg>${PANEL_ICONS.proposals}</svg>`).slice(1);
    expect([solid, dashed].map((one) => /^M[\d. ]+(L?[-\d. ]+l?)+z$/.test(one!.attributes.d!))).toEqual([
      true,
      true,
    ]);
    expect([solid!.attributes, dashed!.attributes].map((one) => 'stroke-dasharray' in one)).toEqual([
      false,
      true,
    ]);
  });

  it('of different actions differ', () => {
    const names = [...new Set(BOARD_ACTIONS.flatMap((action) => action.icon ?? []))];
    expect(new Set(names.map((name) => shapesOf(icon(name)))).size).toBe(names.length);
    expect(new Set(PAGE_ICONS.map((name) => shapesOf(pageIcon(name)))).size).toBe(PAGE_ICONS.length);
  });

  it('that point somewhere turn round where one writes from right to left, and no others', () => {
    const turning = PAGE_ICONS.filter((name) => svgOf(pageIcon(name)).attributes.class === 'icon turns');
    expect(turning).toEqual(['back', 'undo', 'redo']);
  });
});

describe('knots as icons', () => {
  /** Whether each stroke leans as a backslash does. */
  const leans = (d: string): readonly boolean[] =>
    [...d.matchAll(/M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)/g)].map(([, ...ends]) => {
      const [x0, y0, x1, y1] = ends.map(Number) as [number, number, number, number];
      return (x1 - x0) * (y1 - y0) > 0;
    });

  it('[Q6] bear the strokes of the notation within their lozenge', () => {
    for (const knot of KNOTS.slice(1)) {
      const [, lozenge, strokes] = elementsOf(knotIcon(knot));
      expect([knot, leans(strokes!.attributes.d!)]).toEqual([
        knot,
        HITCH_STROKES[knot]!.map(([x0, y0, x1, y1]) => (x1 - x0) * (y1 - y0) > 0),
      ]);
      expect([lozenge!.attributes.fill, lozenge!.attributes['stroke-dasharray']]).toEqual([
        'currentColor',
        'none',
      ]);
      for (const [, x, y] of strokes!.attributes.d!.matchAll(/[ML]([\d.]+) ([\d.]+)/g))
        expect(Math.abs(Number(x) - 12) / 11 + Math.abs(Number(y) - 12) / 9.4).toBeLessThan(1);
    }
  });

  it('[B274] the two strokes of a bend stay apart: more than half a stroke between their edges', () => {
    for (const knot of [3, 4] as const) {
      const [, , strokes] = elementsOf(knotIcon(knot));
      const ends = [...strokes!.attributes.d!.matchAll(/[ML][\d.]+ ([\d.]+)/g)].map(([, y]) => Number(y));
      const width = Number(strokes!.attributes['stroke-width']);
      expect(ends[2]! - ends[1]! - width).toBeGreaterThan(width / 2);
    }
  });

  it('an untied pair is two strings that hang in a broken outline', () => {
    const [, lozenge, strings] = elementsOf(knotIcon(0));
    expect([lozenge!.attributes.fill, lozenge!.attributes['stroke-dasharray']]).toEqual(['none', '2.5 2.5']);
    expect(strings!.attributes.d).toBe('M8.5 4v16M15.5 4v16');
    expect(Number(lozenge!.attributes['stroke-opacity'])).toBeGreaterThan(
      Number(elementsOf(knotIcon(1))[1]!.attributes['stroke-opacity']),
    );
  });
});
