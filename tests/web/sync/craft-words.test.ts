/** Names to propose, in the language of whoever reads them. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { craftWords, inOwnWords, nameKey } from '../../../web/sync/craft-words.ts';
import { FIRST_NAMES } from '../../../web/sync/person.ts';
import { CRAFT_NAMES, speak } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeEach(() => void stubPage());
afterEach(async () => {
  await speak('en');
  vi.unstubAllGlobals();
});

it('[B275] every language has a word for each, and none stands at two places', () => {
  const [english, ...others] = Object.values(CRAFT_NAMES);
  for (const words of others) expect(words).toHaveLength(english!.length);
  const places = new Map<string, Set<number>>();
  for (const words of Object.values(CRAFT_NAMES))
    for (const [at, word] of words.entries())
      places.set(word.toLowerCase(), (places.get(word.toLowerCase()) ?? new Set()).add(at));
  expect([...places].filter(([, at]) => at.size > 1).map(([word]) => word)).toEqual([]);
  for (const name of FIRST_NAMES) expect(english).toContain(name);
});

it('[B275] a name that was proposed is read in the language of the page, with its number; any other stays', async () => {
  await speak('de');
  expect(craftWords()).toBe(CRAFT_NAMES.de);
  expect(['Bobbin', 'Bobbin 12', 'Spule', 'bobbin', 'Ida', 'Bobbin Ida', ''].map(inOwnWords)).toEqual([
    'Spule',
    'Spule 12',
    'Spule',
    'Spule',
    'Ida',
    'Bobbin Ida',
    '',
  ]);
  await speak('en');
  expect(['Spule 2', 'Fingerhut'].map(inOwnWords)).toEqual(['Bobbin 2', 'Thimble']);
});

it('[B275] it is one name in every language, and with another number another', () => {
  expect(nameKey('Spule')).toBe(nameKey(' bobbin '));
  expect(nameKey('Spule 2')).toBe(nameKey('BOBBIN 2'));
  expect(new Set(['Bobbin', 'Bobbin 2', 'Ida', 'ida 2', '0', ''].map(nameKey)).size).toBe(6);
  expect(nameKey('IDA')).toBe(nameKey(' ida'));
});
