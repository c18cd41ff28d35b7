/** Fields of a form: what is said of each, what is wrong with it, and when it tells what stands in it. */
import { html } from 'lit';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  choiceField,
  type NumberField,
  numberField,
  readNumber,
  unitSwitch,
} from '../../../web/fields/field.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { elementsOf, elementWith, type TemplateElement } from '../../support/template-elements.ts';

beforeAll(() => loadTexts('panels'));

const field = (more: Partial<NumberField> = {}) =>
  numberField({ id: 'row', label: 'Row height', value: '2,4', onValue: () => {}, ...more });
const input = (template: unknown): TemplateElement => elementWith(template, {}, 'input');
const part = (template: unknown, id: string): TemplateElement => elementWith(template, { id });

describe('a field for a number', () => {
  it('keeps what is typed as it is, is named by its label and points at what is said of it', () => {
    const template = field();
    expect(input(template).properties.value).toBe('2,4');
    expect(elementWith(template, { for: 'row' }, 'label').words).toBe('Row height');
    for (const id of input(template).attributes['aria-describedby']!.split(' '))
      expect(part(template, id).attributes).toHaveProperty('hidden');
    expect([input(template).attributes['aria-invalid'], input(template).attributes.placeholder]).toEqual([
      'false',
      '',
    ]);
    expect(input(template).attributes).not.toHaveProperty('disabled');
  });

  it('says what is wrong as it becomes wrong, and what it is for', () => {
    const template = field({ wrong: 'No number.', hint: 'in millimetres', placeholder: '2.1' });
    expect([part(template, 'row-wrong').words, part(template, 'row-wrong').attributes.role]).toEqual([
      'No number.',
      'alert',
    ]);
    expect(part(template, 'row-hint').words).toBe('in millimetres');
    for (const id of ['row-wrong', 'row-hint'])
      expect(part(template, id).attributes).not.toHaveProperty('hidden');
    expect([input(template).attributes['aria-invalid'], input(template).attributes.placeholder]).toEqual([
      'true',
      '2.1',
    ]);
  });

  it('that cannot be used now says so; a mark stands beside its name', () => {
    const template = field({ isDisabled: true, mark: html`<em>≈</em>` });
    expect(input(template).attributes).toHaveProperty('disabled');
    expect(elementWith(template, { class: 'head' }).words).toBe('Row height≈');
  });

  it('tells what stands in it when it is left, or with every key', () => {
    for (const live of [false, true]) {
      const told: string[] = [];
      const one = input(field({ live, onValue: (text) => told.push(text) }));
      one.fire('input', { target: { value: '2' } });
      one.fire('input', { target: { value: '2x' } });
      one.fire('change', { target: { value: '2x' } });
      expect([live, told]).toEqual([live, live ? ['2', '2x'] : ['2x']]);
    }
  });
});

describe('a number that was typed', () => {
  it('has a point or a comma; nothing is none, and what is no number is told apart from it', () => {
    expect([readNumber('2.5'), readNumber(' 2,5 '), readNumber('-3'), readNumber('0')]).toEqual([
      2.5, 2.5, -3, 0,
    ]);
    expect([readNumber(''), readNumber('  ')]).toEqual([null, null]);
    for (const text of ['two', '1,2,3', '2 mm', '1.000,5'])
      expect([text, readNumber(text)]).toEqual([text, Number.NaN]);
  });
});

describe('a field with choices', () => {
  const choices = [
    ['none', 'None'],
    ['braid', 'Braid'],
  ] as const;
  const choice = (more: Partial<Parameters<typeof choiceField<'none' | 'braid'>>[0]> = {}) =>
    choiceField<'none' | 'braid'>({
      id: 'end',
      label: 'End',
      value: 'braid',
      choices,
      onValue: () => {},
      ...more,
    });

  it('offers each by its name, with the one that holds chosen, and tells another', () => {
    const told: string[] = [];
    const template = choice({ onValue: (value) => told.push(value) });
    const options = elementsOf(template).filter(({ tag }) => tag === 'option');
    expect(
      options.map(({ attributes, words }) => [attributes.value, words, 'selected' in attributes]),
    ).toEqual([
      ['none', 'None', false],
      ['braid', 'Braid', true],
    ]);
    expect(elementWith(template, { for: 'end' }).words).toBe('End');
    const select = elementWith(template, { id: 'end' });
    expect([select.properties.value, 'disabled' in select.attributes]).toEqual(['braid', false]);
    select.fire('change', { target: { value: 'none' } });
    expect(told).toEqual(['none']);
  });

  it('that cannot be used now says so; a mark stands beside its name', () => {
    const template = choice({ isDisabled: true, mark: html`<em>!</em>` });
    expect(elementWith(template, { id: 'end' }).attributes).toHaveProperty('disabled');
    expect(elementWith(template, { class: 'head' }).words).toBe('End!');
  });
});

describe('the unit of lengths', () => {
  it('is one of three, spoken in full, and another is one click away', () => {
    const told: string[] = [];
    const buttons = elementsOf(unitSwitch('cm', (unit) => told.push(unit))).filter(
      ({ tag }) => tag === 'button',
    );
    expect(buttons.map(({ attributes }) => attributes['aria-pressed'])).toEqual(['false', 'true', 'false']);
    expect(buttons.map(({ words }) => words.split(' ')[0])).toEqual(['mm', 'cm', 'in']);
    for (const { words, attributes } of buttons) expect(words).toContain(attributes.title);
    buttons[2]!.fire('click');
    expect(told).toEqual(['in']);
  });
});
