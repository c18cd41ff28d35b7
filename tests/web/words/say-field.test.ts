/** Fields out of range, in every language: each field the engine checks for a page, each demand it makes. */
import { readdirSync, readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { FieldRangeError } from '../../../engine/index.ts';
import type { FieldDemand } from '../../../engine/material/field-error.ts';
import { enProblems } from '../../../web/text/en/problems.ts';
import { LANGUAGES, type Language, loadTexts, speak } from '../../../web/text/index.ts';
import { orRefusal } from '../../../web/words/or-refusal.ts';
import { sayFieldError } from '../../../web/words/say-field.ts';

const DEMANDS: { readonly [K in FieldDemand['be']]: Extract<FieldDemand, { be: K }> } = {
  'above-0': { be: 'above-0' },
  'not-negative': { be: 'not-negative' },
  whole: { be: 'whole', least: 17, most: 43 },
  between: { be: 'between', least: 17, most: 43 },
  'unset-beside': { be: 'unset-beside', other: 'piece.repeats' },
  'short-for-repeats': { be: 'short-for-repeats', most: 43 },
};
const NAMED_FIELDS: readonly string[] = Object.keys(enProblems)
  .filter((key) => key.startsWith('field.'))
  .map((key) => key.slice('field.'.length));
const FOLDER = new URL('../../../engine/material/', import.meta.url);

beforeAll(async () => {
  vi.stubGlobal('document', { documentElement: {} });
  await loadTexts('panels');
});
afterAll(() => vi.unstubAllGlobals());

describe('[B117] a field out of range', () => {
  it.each(Object.keys(LANGUAGES) as Language[])('is said whole in %s', async (language) => {
    await speak(language);
    for (const demand of Object.values(DEMANDS))
      for (const field of NAMED_FIELDS) {
        const error = new FieldRangeError(field, demand, -3.5);
        const sentence = sayFieldError(error);
        expect(sentence).toContain('-3.5');
        if ('most' in demand) expect(sentence).toContain('43');
        if ('least' in demand) expect(sentence).toContain('17');
        expect(sentence).not.toMatch(/[{}]|gauge\.|piece\./);
        if (language !== 'en') expect(sentence).not.toMatch(/\b(must|number|not|above|where)\b/);
      }
  });

  it('has its limits and its value in German', async () => {
    await speak('de');
    expect(sayFieldError(new FieldRangeError('piece.repeats', DEMANDS.whole, 99))).toBe(
      'Zahl der Rapporte muss eine ganze Zahl von 17 bis 43 sein, nicht 99',
    );
  });

  it('has a name wherever the engine checks a field of gauge, piece or bar', () => {
    // cord.ts is for who calls the engine; no page shows its refusals.
    const files = readdirSync(FOLDER).filter((file) => file.endsWith('.ts') && file !== 'cord.ts');
    const calls = files.flatMap((file) => [
      ...readFileSync(new URL(file, FOLDER), 'utf8').matchAll(
        /(?:require(?:Positive|NotNegative|Whole)|new FieldRangeError)\(\s*'([^']+)'/g,
      ),
    ]);
    const checked = new Set(calls.map(([, path]) => path));
    expect(checked.size).toBeGreaterThan(8);
    expect([...checked].filter((path) => path === undefined || !NAMED_FIELDS.includes(path))).toEqual([]);
  });

  it('stands in place of what is computed from it; what is computed comes as it is, and faults are thrown on', async () => {
    await speak('en');
    expect(orRefusal(() => 7)).toEqual({ ok: true, value: 7 });
    const error = new FieldRangeError('gauge.cordMm', DEMANDS['above-0'], -1);
    const refused = orRefusal(() => {
      throw error;
    });
    expect(refused).toEqual({ ok: false, why: sayFieldError(error) });
    for (const fault of [new RangeError('ours'), new TypeError('ours')])
      expect(() =>
        orRefusal(() => {
          throw fault;
        }),
      ).toThrow(fault);
  });
});
