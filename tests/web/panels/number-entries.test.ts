/** Numbers that are typed into a panel: what is taken, in which unit, and what is refused and stays to be mended. */
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import type { FieldRule } from '../../../engine/index.ts';
import { NumberEntries } from '../../../web/panels/number-entries.ts';
import { loadTexts } from '../../../web/text/index.ts';
import type { ShownUnit } from '../../../web/units/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { elementsOf, elementWith } from '../../support/template-elements.ts';

type Entry = Parameters<NumberEntries['field']>[0];

const LENGTH: FieldRule = { type: 'number', min: 0, max: 100, isMinOpen: true };
const FROM: FieldRule = { type: 'number', min: 0, max: 0.95, isMinOpen: false };
const WHOLE: FieldRule = { type: 'whole', min: 1, max: 9 };

let renders = 0;
let taken: (number | null)[] = [];
let entries: NumberEntries;

beforeAll(async () => {
  stubPage();
  await loadTexts('panels');
});
afterAll(() => vi.unstubAllGlobals());
beforeEach(() => {
  renders = 0;
  taken = [];
  entries = new NumberEntries({
    addController: () => {},
    removeController: () => {},
    requestUpdate: () => {
      renders += 1;
    },
    updateComplete: Promise.resolve(true),
  });
});

const entry = (more: Partial<Entry> = {}): Entry => ({
  id: 'cord',
  label: 'Width',
  kind: 'plain',
  rule: LENGTH,
  value: undefined,
  isDisabled: false,
  onValue: (value) => taken.push(value),
  ...more,
});
const field = (of: Entry, unit: ShownUnit = 'mm') => {
  const template = entries.field(of, unit);
  const input = elementWith(template, { id: of.id }, 'input');
  const wrong = elementWith(template, { id: `${of.id}-wrong` });
  return {
    template,
    input,
    shown: input.properties.value,
    why: 'hidden' in wrong.attributes ? null : wrong.words,
    type: (text: string) => input.fire('change', { target: { value: text } }),
  };
};

describe('a field for a number', () => {
  it.each([
    ['a length, in the unit that is shown', 'length', 25.4, 'in', '1'],
    ['a length that is not set', 'length', undefined, 'mm', ''],
    ['a share, as hundredths without an error of the last digit', 'share', 0.07, 'mm', '7'],
    ['a share that is not set', 'share', undefined, 'mm', ''],
    ['a number', 'plain', 2.5, 'in', '2.5'],
    ['no number', 'plain', undefined, 'mm', ''],
  ] as const)('shows %s', (_, kind, value, unit, shown) => {
    expect(field(entry({ kind, value }), unit).shown).toBe(shown);
  });

  it.each([
    ['length', 'in', '0,5', 12.7],
    ['length', 'cm', ' 1.25 ', 12.5],
    ['share', 'mm', '7', 0.07],
    ['plain', 'mm', '2.5', 2.5],
    ['plain', 'mm', ' ', null],
  ] as const)('stores of a %s in %s what %j means', (kind, unit, text, stored) => {
    field(entry({ kind, rule: kind === 'share' ? FROM : LENGTH }), unit).type(text);
    expect(taken).toEqual([stored]);
    expect(renders).toBe(1);
  });

  it('refuses what is no number, and keeps it until it is mended', () => {
    field(entry({ value: 3 })).type('3 or 4');
    const refused = field(entry({ value: 3 }));
    expect([refused.shown, refused.why, taken]).toEqual(['3 or 4', 'This is not a number.', []]);
    expect(refused.input.attributes['aria-invalid']).toBe('true');
    // Another field of the panel is as it was.
    expect(field(entry({ id: 'row', value: 3 })).why).toBeNull();
    refused.type('4');
    const mended = field(entry({ value: 4 }));
    expect([mended.shown, mended.why, taken]).toEqual(['4', null, [4]]);
  });

  it.each([
    ['length', LENGTH, undefined, 'cm', '0', 'Must be above 0, at most 10.'],
    ['length', LENGTH, undefined, 'cm', '10.1', 'Must be above 0, at most 10.'],
    ['length', LENGTH, 50, 'cm', '6', 'Must be above 0, at most 5.'],
    ['share', FROM, undefined, 'mm', '96', 'Must be from 0 to 95.'],
    ['share', FROM, undefined, 'mm', '-1', 'Must be from 0 to 95.'],
    ['plain', WHOLE, undefined, 'mm', '2.5', 'Must be a whole number from 1 to 9.'],
    ['plain', WHOLE, undefined, 'mm', '0', 'Must be a whole number from 1 to 9.'],
    ['plain', WHOLE, 4, 'mm', '5', 'Must be a whole number from 1 to 4.'],
  ] as const)('says of a %s what it may be', (kind, rule, most, unit, text, why) => {
    const of = entry({ kind, rule, ...(most === undefined ? {} : { most }) });
    field(of, unit).type(text);
    expect([field(of, unit).why, taken]).toEqual([why, []]);
  });

  it.each([
    ['share', FROM, '0', 0],
    ['share', FROM, '95', 0.95],
    ['plain', LENGTH, '100', 100],
    ['plain', WHOLE, '1', 1],
    ['plain', WHOLE, '9', 9],
  ] as const)('takes the limits themselves of a %s', (kind, rule, text, stored) => {
    field(entry({ kind, rule })).type(text);
    expect(taken).toEqual([stored]);
  });

  it('says what holds while it is empty, what it is for, and who begins and ends typing', () => {
    const told: boolean[] = [];
    const of = entry({
      unset: '2 mm',
      hint: 'Six side by side.',
      onTyping: (isTyping) => told.push(isTyping),
    });
    const { template, input } = field(of);
    expect(input.attributes.placeholder).toBe('usually 2 mm');
    expect(elementWith(template, { id: 'cord-hint' }).words).toBe('Six side by side.');
    input.fire('input', { target: { value: '1' } });
    input.fire('blur');
    expect(told).toEqual([true, false]);
    const plain = field(entry({ isDisabled: true }));
    expect([plain.input.attributes.placeholder, plain.input.attributes.disabled]).toEqual(['', '']);
    expect(elementsOf(plain.template).find(({ tag }) => tag === 'label')!.words).toBe('Width');
    plain.input.fire('blur');
  });

  it('is no field for words', () => {
    const of = entry({ rule: { type: 'text', max: 9 } });
    expect(() => field(of).type('1')).toThrow(TypeError);
  });
});
