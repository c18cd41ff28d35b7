/** A notice in words. */
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import type { Lost } from '../../../engine/document/index.ts';
import { sayNotice } from '../../../web/notices/notice-words.ts';
import { loadTexts, speak } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('notices');
});
afterAll(() => vi.unstubAllGlobals());

const of = (kind: Lost['kind'], isRemoved: boolean, count: number): Lost[] =>
  Array.from({ length: count }, (_, i) => ({
    kind,
    thing: `${kind}${isRemoved}${i}`,
    isRemoved,
    isWhole: false,
    change: { root: 'meta', key: String(i), before: 1, after: 2 },
  }));

it('[W980] says who, what and how many of each, a thing once; rows and strings by what one sees', async () => {
  const say = (name: string, ...lost: readonly Lost[][]): string =>
    sayNotice({ who: { id: 'x', name }, lost: lost.flat() });
  expect(say('Tom', of('knot', false, 12))).toBe('Tom changed 12 of your knots.');
  expect(say('', of('row', true, 1))).toBe('Somebody removed 2 of your rows.');
  expect(say('Tom', of('colour', false, 1), of('colourway', false, 2))).toBe(
    'Tom changed 1 of your colours and 2 of your colourways.',
  );
  expect(say('Ina', of('text', false, 1), of('string', true, 2), of('knot', true, 5))).toBe(
    'Ina changed 1 of your texts and removed 5 of your knots and 4 of your strings.',
  );
  const [one] = of('colourway', false, 1);
  expect(say('Tom', [one!, { ...one!, change: { ...one!.change, key: 'another field' } }])).toBe(
    'Tom changed 1 of your colourways.',
  );
  await speak('de');
  expect(say('Tom', of('knot', false, 12))).toBe('Tom hat 12 deiner Knoten geändert.');
  expect(say('', of('text', false, 1), of('row', true, 1))).toBe(
    'Jemand hat 1 deiner Texte geändert und 2 deiner Reihen entfernt.',
  );
  await speak('en');
});
