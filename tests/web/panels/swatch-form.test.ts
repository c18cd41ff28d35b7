/** What is typed of a swatch becomes its measures, in whatever unit; and the drawing shows what to measure. */
import { beforeAll, describe, expect, it } from 'vitest';
import { swatchDrawing } from '../../../web/panels/swatch-drawing.ts';
import {
  convertLengths,
  isLength,
  readSwatches,
  SWATCH_FIELDS,
  type SwatchText,
} from '../../../web/panels/swatch-form.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { elementsOf, elementWith, type TemplateElement } from '../../support/template-elements.ts';

beforeAll(() => loadTexts('panels'));

const TYPED: SwatchText = {
  strings: '12',
  widthMm: '1,5',
  rows: ' 30 ',
  heightMm: '6',
  cutMm: '60.0',
  leftMm: '17',
  knotting: '20',
  carrier: '10',
};

describe('swatches as typed', () => {
  it('are read with a point or a comma, lengths in the unit shown, counts as they are', () => {
    const read = (unit: 'mm' | 'cm' | 'in') => readSwatches([TYPED], unit);
    expect(read('cm')).toEqual({
      ok: true,
      value: [
        {
          strings: 12,
          widthMm: 15,
          rows: 30,
          heightMm: 60,
          cutMm: 600,
          leftMm: 170,
          knotting: 20,
          carrier: 10,
        },
      ],
    });
    // An inch is 25.4 mm.
    expect(read('in')).toMatchObject({ value: [{ strings: 12, widthMm: 38.1, heightMm: 152.4 }] });
    expect(read('mm')).toMatchObject({ value: [{ widthMm: 1.5, cutMm: 60 }] });
  });

  it('what is empty was not measured; no swatch is none', () => {
    expect(readSwatches([{ strings: '12', widthMm: ' ' }, {}], 'mm')).toEqual({
      ok: true,
      value: [{ strings: 12 }, {}],
    });
    expect(readSwatches([], 'mm')).toEqual({ ok: true, value: [] });
  });

  it('what is no number is told by its place, the first of several, in the order of the form', () => {
    for (const field of SWATCH_FIELDS)
      expect(readSwatches([TYPED, { ...TYPED, [field]: 'wide' }], 'mm')).toEqual({
        ok: false,
        error: { kind: 'not-number', path: `swatches[1].${field}` },
      });
    expect(readSwatches([{ carrier: '1 2', rows: '-' }, { strings: 'x' }], 'mm')).toMatchObject({
      error: { path: 'swatches[0].rows' },
    });
  });

  it('change their lengths with the unit and nothing else; what is no number stays to be mended', () => {
    expect(convertLengths(TYPED, 'cm', 'mm')).toEqual({
      ...TYPED,
      widthMm: '15',
      heightMm: '60',
      cutMm: '600',
      leftMm: '170',
    });
    expect(convertLengths({ widthMm: '1.5.', heightMm: '' }, 'cm', 'in')).toEqual({
      widthMm: '1.5.',
      heightMm: '',
    });
    // To the ten-thousandth of an inch that a field shows.
    const there = readSwatches([convertLengths(TYPED, 'cm', 'in')], 'in');
    expect(there).toMatchObject({ ok: true, value: [{ strings: 12, rows: 30, knotting: 20, carrier: 10 }] });
    for (const [field, mm] of [
      ['widthMm', 15],
      ['cutMm', 600],
    ] as const)
      expect(there.ok && Math.abs(there.value[0]![field]! - mm)).toBeLessThan(0.002);
    expect(SWATCH_FIELDS.filter(isLength)).toEqual(['widthMm', 'heightMm', 'cutMm', 'leftMm']);
  });
});

describe('what to measure', () => {
  const numbers = (d: string): readonly number[] => [...d.matchAll(/[\d.]+/g)].map(([one]) => Number(one));
  const paths = (): readonly TemplateElement[] =>
    elementsOf(swatchDrawing()).filter(({ tag }) => tag === 'path');
  const lozenges = () =>
    paths()
      .filter(({ attributes }) => attributes.d!.endsWith('Z'))
      .map(
        ({ attributes }) =>
          numbers(attributes.d!) as [number, number, number, number, number, number, number, number],
      );
  const measures = () =>
    paths()
      .filter(({ attributes }) => /^M[\d.]+ [\d.]+L[\d.]+ [\d.]+$/.test(attributes.d!))
      .map(({ attributes }) => numbers(attributes.d!) as [number, number, number, number]);

  it('has a name, and says of three lengths what they are', () => {
    const template = swatchDrawing();
    expect(elementWith(template, { role: 'img' }).attributes['aria-label']!.length).toBeGreaterThan(40);
    const texts = elementsOf(template).filter(({ tag }) => tag === 'text');
    expect(texts.map(({ words }) => words)).toEqual(['width', 'height', 'left over']);
    // Each stands beside its own measure.
    const [across, down, left] = measures();
    const x = texts.map(({ attributes }) => Number(attributes.x));
    const y = texts.map(({ attributes }) => Number(attributes.y));
    expect([x[0]! > across![0] && x[0]! < across![2], y[0]! < across![1]]).toEqual([true, true]);
    expect([x[1]! < down![0], y[1]! > down![1] && y[1]! < down![3]]).toEqual([true, true]);
    expect([x[2]! > left![0], y[2]! > left![1] && y[2]! < left![3]]).toEqual([true, true]);
  });

  it('is a tied band: rows stagger, and its measures go from edge to edge', () => {
    const knots = lozenges();
    const tops = [...new Set(knots.map(([, top]) => top))];
    const inRow = tops.map((top) => knots.filter((knot) => knot[1] === top).length);
    expect(inRow).toEqual([4, 3, 4, 3, 4, 3, 4]);
    const [across, down, left] = measures();
    expect([across![1], down![0]]).toEqual([across![3], down![2]]);
    const x = knots.flatMap((knot) => [knot[2], knot[6]]);
    expect([across![0] <= Math.min(...x), across![2] >= Math.max(...x)]).toEqual([true, true]);
    const y = knots.flatMap((knot) => [knot[1], knot[5]]);
    expect([down![1], down![3]]).toEqual([Math.min(...y), Math.max(...y)]);
    // What is left over hangs from the last row to the end of one string, which is drawn thicker than the others.
    const tails = paths().filter(({ attributes }) => attributes['stroke-linecap'] === 'round');
    expect(tails).toHaveLength(8);
    const [thick, ...others] = tails.toSorted(
      (a, b) => Number(b.attributes['stroke-width']) - Number(a.attributes['stroke-width']),
    );
    expect(numbers(thick!.attributes.d!).at(-1)).toBe(left![3]);
    expect(left![1]).toBe(down![3]);
    for (const other of others) expect(numbers(other.attributes.d!).at(-1)).toBeLessThan(left![3]);
  });
});
