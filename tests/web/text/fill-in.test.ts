import { describe, expect, it } from 'vitest';
import { fillIn } from '../../../web/text/fill-in.ts';

const english = new Intl.PluralRules('en');

describe('[X20] a text', () => {
  it('takes values, and the form of each number', () => {
    const text = '{name}: {rows} {rows:row/rows}, {knots} {knots:knot/knots}';
    expect(fillIn(text, { name: 'a', rows: 1, knots: 0 }, english)).toBe('a: 1 row, 0 knots');
  });

  it('may have a form that is empty', () => {
    expect(fillIn('knot{count:/s}', { count: 1 }, english)).toBe('knot');
    expect(fillIn('knot{count:/s}', { count: 2 }, english)).toBe('knots');
  });

  it('has as many forms as its language counts in', () => {
    const rows = (count: number, language: string, forms: string): string =>
      fillIn(`{count:${forms}}`, { count }, new Intl.PluralRules(language));
    expect([1, 2, 5, 22].map((count) => rows(count, 'pl', 'rząd/rzędy/rzędów/rzędu'))).toEqual([
      'rząd',
      'rzędy',
      'rzędów',
      'rzędy',
    ]);
    expect([1, 2].map((count) => rows(count, 'ja', '段'))).toEqual(['段', '段']);
  });

  it('that lacks a value or a form says so', () => {
    expect(() => fillIn('{name}', {}, english)).toThrow(RangeError);
    expect(() => fillIn('{count:row}', { count: 2 }, english)).toThrow(RangeError);
  });
});
