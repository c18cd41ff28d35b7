/** What a person was told of. */
import { expect, it } from 'vitest';
import { ToldAlready } from '../../../web/notices/told-already.ts';
import { MapShelf, storageOf } from '../../support/map-shelf.ts';

const change = (key: string) => ({ root: 'knots', key, before: 1, after: 2 }) as const;

it('[W986] is kept by board and person, until one writes there anew; the oldest go first', () => {
  const shelf = storageOf(new MapShelf());
  const told = new ToldAlready(shelf, 'b', 'mia');
  told.add([change('a'), change('c')]);
  const later = new ToldAlready(shelf, 'b', 'mia');
  expect(['a', 'b', 'c'].map((key) => later.has(change(key)))).toEqual([true, false, true]);
  expect(new ToldAlready(shelf, 'b', 'tom').has(change('a'))).toBe(false);
  later.forget([change('a'), change('b')]);
  expect([told.has(change('a')), told.has(change('c'))]).toEqual([false, true]);
  told.add(Array.from({ length: 1_000 }, (_, i) => change(`n${i}`)));
  expect([told.has(change('c')), told.has(change('n0'))]).toEqual([false, true]);
});

it('what cannot be read counts as nothing', () => {
  const shelf = storageOf(new MapShelf());
  for (const text of ['{', '{}', '[1,null]']) {
    shelf.setItem('larkboard.told.b.mia', text);
    expect(new ToldAlready(shelf, 'b', 'mia').has(change('a'))).toBe(false);
  }
});
