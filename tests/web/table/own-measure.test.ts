import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import {
  inMeasure,
  keepMeasure,
  LEAST_MM,
  MOST_MM,
  measureOf,
  readMeasure,
  sayInMeasure,
  typedMm,
} from '../../../web/table/own-measure.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { stubPage } from '../../support/page-globals.ts';

let page: MapShelf;
beforeAll(async () => {
  page = stubPage();
  await loadTexts('table');
});
afterAll(() => vi.unstubAllGlobals());

describe('a measure of her own', () => {
  it('[N87] is kept on the device with its name, and is none without a name or with a length that makes no sense', () => {
    const shelf = new MapShelf();
    expect(readMeasure(shelf)).toBeNull();
    const edge = measureOf('  table edge ', 615)!;
    expect(edge).toEqual({ name: 'table edge', mm: 615 });
    expect(keepMeasure(edge, shelf)).toBe(true);
    expect(readMeasure(shelf)).toEqual(edge);
    for (const [name, mm] of [
      ['', 600],
      [' ', 600],
      ['arm', LEAST_MM - 1],
      ['arm', MOST_MM + 1],
      ['arm', Number.NaN],
    ] as const)
      expect(measureOf(name, mm)).toBeNull();
    keepMeasure(null, shelf);
    expect(readMeasure(shelf)).toBeNull();
    for (const kept of ['no', 'null', '{"name":7,"mm":600}', '{"name":"arm","mm":1}', '[]']) {
      shelf.setItem('larkboard.table-measure', kept);
      expect(readMeasure(shelf), kept).toBeNull();
    }
    shelf.isFull = true;
    expect(keepMeasure(edge, shelf)).toBe(false);
  });

  it('[N87] a length is so many of it and the rest; what is off by less than 5 mm is a whole number of it', () => {
    const edge = { name: 'table edge', mm: 600 };
    expect(inMeasure(1340, edge)).toEqual({ times: 2, restMm: 140 });
    for (const length of [1196, 1200, 1204]) expect(inMeasure(length, edge)).toEqual({ times: 2, restMm: 0 });
    expect(inMeasure(1195, edge)).toEqual({ times: 1, restMm: 595 });
    expect(inMeasure(4, edge)).toEqual({ times: 0, restMm: 4 });
    for (let length = 1; length < 3000; length += 7) {
      const { times, restMm } = inMeasure(length, edge);
      expect(Math.abs(times * edge.mm + restMm - length)).toBeLessThan(5);
      expect(restMm >= 0 && restMm < edge.mm).toBe(true);
    }
  });

  it('[N87] is said beside a length, in the unit that lengths are shown in', () => {
    const edge = { name: 'table edge', mm: 600 };
    expect(sayInMeasure(1340, edge)).toBe('= 2 × table edge and 140 mm');
    expect(sayInMeasure(1200, edge)).toBe('= 2 × table edge');
    expect([sayInMeasure(300, edge), sayInMeasure(1340, null)]).toEqual(['', '']);
    page.setItem('larkboard-unit', 'cm');
    expect(sayInMeasure(1340, edge)).toBe('= 2 × table edge and 14 cm');
    expect([typedMm('61,5'), typedMm(''), typedMm('two')]).toEqual([615, Number.NaN, Number.NaN]);
    page.removeItem('larkboard-unit');
  });
});
