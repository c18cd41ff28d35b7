import { describe, expect, it } from 'vitest';
import { isAlike, scopeOf } from '../../../../engine/document/journal/key-change.ts';

describe('plain values', () => {
  const base = (...knots: number[]): object => ({
    rows: [['~', 2]],
    strings: [],
    knots: new Uint8Array(knots),
  });
  it.each([
    ['texts', 'a', 'a', true],
    ['texts', 'a', 'b', false],
    ['a number and a text', 1, '1', false],
    ['nothing', null, null, true],
    ['nothing and something', null, {}, false],
    ['not there and nothing', undefined, null, false],
    ['packed knots', base(1, 2), base(1, 2), true],
    ['packed knots, one tied otherwise', base(1, 2), base(1, 3), false],
    ['packed knots, some fewer', base(1, 2), base(1), false],
    ['packed knots and the same numbers', new Uint8Array([1, 2]), [1, 2], false],
    ['the same numbers and packed knots', [1, 2], new Uint8Array([1, 2]), false],
    ['lists in another order', [1, 2], [2, 1], false],
    ['a list and an object of the same entries', ['a'], { 0: 'a' }, false],
    ['fields in another order', { a: 1, b: [2] }, { b: [2], a: 1 }, true],
    ['a field more', { a: 1 }, { a: 1, b: undefined }, false],
    ['as many fields, of other names', { a: undefined }, { b: undefined }, false],
    ['a field that is only inherited', { toString: 1 }, { x: 1 }, false],
  ])('%s: %j and %j', (_, a, b, isSame) => {
    expect([isAlike(a, b), isAlike(b, a)]).toEqual([isSame, isSame]);
  });

  it('a key belongs to what stands before its first dot', () => {
    expect(['w0.piece.notes', 'version', '.x'].map(scopeOf)).toEqual(['w0', '', '']);
  });
});
