/** The draw depends on the product sources and the seed alone, and whatever is drawn can be built. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { draw } from './draw.ts';
import { instrument } from './instrument.ts';
import { allPlaces, mutate, type Place, placesIn, SHARES, shareOf } from './places.ts';
import { parse } from './syntax.ts';

const all = allPlaces('.');
const idsOf = (places: readonly Place[], seed: number, count: number): string[] =>
  [...draw(places, seed, count).values()].flatMap((share) => share.places.map(({ id }) => id));

describe('places', () => {
  it('have ids of their own that name file, line, column and change', () => {
    const [first, second] = placesIn('engine/a.ts', '\nif (a <\n  1) b();\n');
    expect([first!.id, second!.id]).toEqual(['engine/a.ts:2:7 < -> <=', 'engine/a.ts:2:7 < -> >=']);
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    expect(all.filter(({ id }) => /[,\n]/.test(id))).toEqual([]);
  });

  it('are found in every part of the product, in code alone', () => {
    for (const share of SHARES) {
      const mine = all.filter(({ file }) => shareOf(file) === share);
      expect(mine.length, share).toBeGreaterThan(1000);
    }
    expect(all.filter(({ file }) => /web\/text\/|\.styles\.ts$/.test(file))).toEqual([]);
  });

  it('are drawn alike by one seed and otherwise by another', () => {
    expect(idsOf(all, 7, 60)).toEqual(idsOf([...all], 7, 60));
    expect(idsOf(all, 8, 60)).not.toEqual(idsOf(all, 7, 60));
  });

  it('do not hang on other parts: a change in the page leaves the draw of the engine as it was', () => {
    const engine = (places: readonly Place[]): string[] =>
      draw(places, 7, 60)
        .get('engine')!
        .places.map(({ id }) => id);
    expect(engine(all.filter(({ file }) => shareOf(file) !== 'web'))).toEqual(engine(all));
  });

  it('are drawn in equal shares, with spares, one change a spot', () => {
    const drawn = draw(all, 3, 62);
    expect(Array.from(drawn.values(), ({ wanted }) => wanted)).toEqual([16, 16, 15, 15]);
    for (const { wanted, places } of drawn.values()) {
      expect(places.length).toBeGreaterThan(2 * wanted);
      expect(new Set(places.map(({ file, start }) => `${file}:${start}`)).size).toBe(places.length);
    }
  });

  it('leave sources that still parse, and differ', () => {
    const drawn = [1, 2].flatMap((seed) => [...draw(all, seed, 60).values()].flatMap(({ places }) => places));
    for (const place of drawn) {
      const text = readFileSync(place.file, 'utf8');
      const changed = mutate(text, place);
      expect(changed, place.id).not.toBe(text);
      expect(() => parse(place.file, changed), place.id).not.toThrow();
    }
    expect(drawn.length).toBeGreaterThan(100);
  });
});

describe('instrumented sources', () => {
  it('report each place when it runs and compute what they did', () => {
    const text = 'for (const a of list) { if (a < 2 && seen(a)) continue; out.push(-a * 3); }';
    const places = placesIn('engine/a.ts', text);
    const one = [...new Map(places.map((place) => [place.start, place])).values()];
    const code = instrument(
      text,
      one.map((place, i) => [place, i] as const),
      '/nowhere',
    );
    const run = (list: readonly number[]): { out: number[]; reached: string[] } => {
      const out: number[] = [];
      const reached: string[] = [];
      const body = code.replace(/globalThis\.process\?\.getBuiltinModule/, 'null');
      new Function('list', 'seen', 'out', 'console', body)(list, () => true, out, {
        debug: (line: string) => reached.push(one[Number(line.split(' ')[1])]!.name),
      });
      return { out, reached };
    };
    expect(run([1])).toEqual({
      out: [],
      reached: ['condition negated', '&& -> ||', '< -> >=', '2 -> 3', 'statement removed'],
    });
    expect(run([5]).out).toEqual([-15]);
    expect(run([5]).reached.slice(-4)).toEqual(['statement removed', '* -> /', '- -> nothing', '3 -> 4']);
    expect(run([])).toEqual({ out: [], reached: [] });
  });

  it('parse, with every place of a file reported', () => {
    const drawn = [...draw(all, 5, 16).values()].flatMap(({ places }) => places);
    const files = new Set(drawn.map(({ file }) => file));
    for (const file of files) {
      const own = all.filter((place) => place.file === file);
      const numbered = own.map((place, i) => [place, i] as const);
      const code = instrument(readFileSync(file, 'utf8'), numbered, '/nowhere');
      expect(() => parse(file, code), file).not.toThrow();
      expect(code.match(/__reached\(\d+\)/g)?.length, file).toBe(own.length);
      expect(code.split('\n').length, file).toBe(readFileSync(file, 'utf8').split('\n').length);
    }
  });
});
