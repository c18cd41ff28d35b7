/** Lengths as the page writes them: rounded so that nobody cuts too short, in the unit that was chosen. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  fieldToLength,
  formatCut,
  formatFine,
  formatNear,
  formatPrice,
  keepUnit,
  lengthToField,
  readUnit,
  type ShownUnit,
  UNIT_EVENT,
} from '../../../web/units/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeEach(() => {
  stubPage();
});
afterEach(() => vi.unstubAllGlobals());

describe('the unit', () => {
  it('is millimetres until another is chosen, which is kept and told to the page', () => {
    const told: string[] = [];
    vi.stubGlobal('dispatchEvent', ({ type }: Event) => told.push(type));
    expect(readUnit()).toBe('mm');
    keepUnit('in');
    expect([readUnit(), told]).toEqual(['in', [UNIT_EVENT]]);
  });

  it('is millimetres where something else was kept', () => {
    localStorage.setItem('larkboard-unit', 'ell');
    expect(readUnit()).toBe('mm');
  });
});

describe('a length', () => {
  it('to cut is never written shorter than it is', () => {
    expect(formatCut(100.2, 'mm')).toBe('101 mm');
    expect(formatCut(100.2, 'cm')).toBe('10.1 cm');
    // 25.4 mm are an inch; a hair more is the next eighth.
    expect(formatCut(25.4, 'in')).toMatch(/^1 ?(in|″|")/);
    expect(formatCut(25.5, 'in')).toMatch(/1 ?1\/8|1⅛/);
  });

  it('that was computed to a whole millimetre does not become the next by an error of the last digit', () => {
    expect(formatCut(0.1 * 3 * 1000, 'mm')).toBe('300 mm');
  });

  it('as it came out is the nearest; as measured it has its hundredths', () => {
    expect(formatNear(100.4, 'mm')).toBe('100 mm');
    expect(formatNear(100.5, 'cm')).toBe('10.1 cm');
    expect(formatNear(25.5, 'in')).toBe(formatNear(25.4, 'in'));
    expect(formatFine(1.234, 'mm')).toBe('1.23 mm');
    expect(formatFine(1.234, 'cm')).toBe('0.123 cm');
  });

  it('is written as people of the page’s language write numbers, prices to the hundredth', () => {
    expect([formatFine(1234.5, 'mm'), formatPrice(3.6)]).toEqual(['1,234.5 mm', '3.60']);
    stubPage('de');
    expect([formatFine(1234.5, 'mm'), formatPrice(3.6)]).toEqual(['1.234,5 mm', '3,60']);
    stubPage('');
    expect(formatPrice(3.6)).toBe('3.60');
  });

  it('in a field comes back as it went in, and an unset one is empty', () => {
    const back = (mm: number, unit: ShownUnit) => fieldToLength(Number(lengthToField(mm, unit)), unit);
    for (const mm of [0.5, 1, 12.7, 300, 4120]) {
      expect([back(mm, 'mm'), back(mm, 'cm')]).toEqual([mm, mm]);
      // A field shows an inch to its ten-thousandth part.
      expect(Math.abs(back(mm, 'in') - mm)).toBeLessThan(0.0025);
    }
    expect(lengthToField(undefined, 'mm')).toBe('');
  });
});
