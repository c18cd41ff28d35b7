/** Visits in words. */
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import type { KeyChange } from '../../../engine/document/index.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { keptOf, whenOf, whoOf } from '../../../web/versions/visit-words.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await speak('en');
  await loadTexts('versions');
});
afterAll(() => vi.unstubAllGlobals());

const change = (key: string): KeyChange => ({ root: 'knots', key, before: 0, after: 1 });
const visit = { id: 'a.1', personId: 'a', name: 'Ada', changes: 1 };

test('[W920] a visit is of somebody, from when to when', () => {
  expect([whoOf(visit), whoOf({ name: '' })]).toEqual(['Ada', 'Somebody without a name']);
  const began = Date.UTC(2026, 4, 5, 12, 0);
  expect(whenOf({ ...visit, began, last: began + 20_000 })).not.toContain(' to ');
  expect(whenOf({ ...visit, began, last: began + 3_600_000 })).toContain(' to ');
});

test('[W921] what stays is counted once each, and said whose it is', () => {
  expect(keptOf([], new Map())).toBeNull();
  expect(keptOf([change('a')], new Map())).toBe('1 change stays: somebody has gone on from it.');
  const since = new Map([
    ['knots a', 'Bo'],
    ['knots b', ''],
    ['meta c', 'Cy'],
  ]);
  expect(keptOf([change('a'), change('d')], since)).toBe(
    '4 changes stay, since Bo and Cy went on from them.',
  );
  const many = new Map(['Bo', 'Cy', 'Di', 'Ed', 'Flo'].map((name, i) => [`knots ${i}`, name]));
  expect(keptOf([], many)).toBe('5 changes stay, since Bo, Cy, Di, and others went on from them.');
});
