/** What was changed on demo boards and is no board yet: kept for each visit, found again, and lost only when it is a board. */
import { beforeEach, expect, it } from 'vitest';
import { parseBoard } from '../../../engine/index.ts';
import { SketchShelf } from '../../../web/pages/sketch-shelf.ts';
import { MapShelf, storageOf } from '../../support/map-shelf.ts';
import { sampleBoard } from '../../support/sample-board.ts';

let storage: MapShelf;
let shelf: SketchShelf;
beforeEach(() => {
  storage = new MapShelf();
  shelf = new SketchShelf(storageOf(storage));
});

const board = (title: string) => ({ ...sampleBoard(), title });

it('[B9] what was kept is found at a later visit, as a board file', () => {
  expect(shelf.keep('kites', 'v1', board('Tails'))).toBe(true);
  const kept = new SketchShelf(storageOf(storage)).find('kites')!;
  const read = parseBoard(kept.file);
  expect([kept.visit, read.ok && read.value.title]).toEqual(['v1', 'Tails']);
  expect(read.ok && read.value.pattern).toEqual(sampleBoard().pattern);
});

it('[B9] of other demo boards nothing is found, also not where one name begins another', () => {
  shelf.keep('kites', 'v1', board('Tails'));
  storage.kept.set('larkboard.person', '{}');
  expect([shelf.find('kite'), shelf.find('boats')]).toEqual([null, null]);
});

it('[B9] no visit overwrites what was kept at another; in one the latest counts', () => {
  shelf.keep('kites', 'v1', board('one'));
  shelf.keep('kites', 'v2', board('two'));
  shelf.keep('kites', 'v1', board('three'));
  shelf.forget('kites', 'v1');
  expect(shelf.find('kites')?.visit).toBe('v2');
  shelf.forget('kites', 'v2');
  expect(shelf.find('kites')).toBeNull();
});

it('[B9] what became a board is forgotten, unless more was changed by then', () => {
  shelf.keep('kites', 'v1', board('one'));
  shelf.forget('kites', 'v1', board('two'));
  expect(shelf.find('kites')?.visit).toBe('v1');
  shelf.forget('kites', 'v1', board('one'));
  expect(storage.kept.size).toBe(0);
});

it('[B9] what cannot be read is passed over, and does not hide what can', () => {
  for (const [visit, text] of ['', '{', 'null', '{"format":"larkboard"}'].entries())
    storage.kept.set(`larkboard.sketch.kites.a${visit}`, text);
  expect(shelf.find('kites')).toBeNull();
  shelf.keep('kites', 'z', board('Tails'));
  expect(shelf.find('kites')?.visit).toBe('z');
});

it('[B9] a browser that has no room says so; any other fault is one', () => {
  storage.isFull = true;
  expect(shelf.keep('kites', 'v1', board('one'))).toBe(false);
  const setItem = (): never => {
    throw new TypeError('ours');
  };
  const broken = { setItem } as unknown as Storage;
  expect(() => new SketchShelf(broken).keep('kites', 'v1', board('one'))).toThrow(TypeError);
});
