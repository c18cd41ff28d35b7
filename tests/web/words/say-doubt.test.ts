/** How sure a length is, in words: no finer than it is known, and nothing where nothing tells. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, cutList, type Gauge } from '../../../engine/index.ts';
import { loadTexts } from '../../../web/text/index.ts';
import {
  basisSentences,
  chanceSentence,
  doubtNotes,
  doubtOfValue,
  meaningSentence,
  plusMinus,
  plusMinusFine,
} from '../../../web/words/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { wordsOf } from '../../support/template-text.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('panels');
});
afterAll(() => vi.unstubAllGlobals());

const doubt = (plusMinusMm: number) => ({ plusMinusMm }) as NonNullable<Parameters<typeof plusMinus>[1]>;
const listOf = (gauge: Gauge) => cutList({ ...sampleBoard(), gauge } as Board);
const chance = (chanceOfShort: number | null) =>
  chanceSentence(
    { chanceOfShort, likeliestShort: 'x' } as Parameters<typeof chanceSentence>[0],
    (colour) => `the colour ${colour}`,
  );

const measured = { cordMm: 1.2, cordErrorMm: 0.02, rowMm: 1.4, rowErrorMm: 0.02 };
const whole = { ...measured, knottingMm: 6, knottingErrorMm: 0.1, carrierMm: 2, carrierErrorMm: 0.1 };

describe('±', () => {
  it('is rounded up to whole millimetres, from ten centimetres on to whole centimetres', () => {
    expect(plusMinus(4120, doubt(7.1), 'mm')).toBe('4,120 mm ± 8 mm');
    expect(plusMinus(4120, doubt(100), 'mm')).toBe('4,120 mm ± 100 mm');
    expect(plusMinus(4120, doubt(100.5), 'mm')).toBe('4,120 mm ± 110 mm');
    expect(plusMinus(4120, doubt(101), 'cm')).toBe('412 cm ± 11 cm');
  });

  it('in inches is eighths, from ten centimetres on whole inches', () => {
    const off = (mm: number): string => plusMinus(2540, doubt(mm), 'in').split('± ')[1]!;
    expect(off(127)).toMatch(/^5\D*$/);
    expect(off(128)).toMatch(/^6\D*$/);
    expect(off(3)).toMatch(/1\/8|⅛/);
  });

  it('is left out where nothing tells how sure a length is', () => {
    expect(plusMinus(4120, null, 'mm')).toBe('4,120 mm');
    expect(plusMinusFine(1.5, null, 'mm')).toBe('1.5 mm');
  });

  it('of a value of the gauge is as fine as the value', () => {
    expect(plusMinusFine(1.5, doubt(0.123), 'mm')).toBe('1.5 mm ± 0.12 mm');
  });
});

describe('what ± rests on', () => {
  it('is said apart for nothing measured, a part measured, and all measured', () => {
    const [none, part, all] = [{}, measured, whole].map((gauge) => basisSentences(listOf(gauge)));
    expect(none).toHaveLength(1);
    expect(none![0]).toMatch(/^Nothing is measured/);
    expect(part!.join(' ')).toMatch(/What is not measured/);
    expect(all!.join(' ')).not.toMatch(/Nothing is measured|What is not measured/);
  });

  it('is not known where the board has values without how sure they are, which are named', () => {
    const list = listOf({ cordMm: 1.2, rowMm: 1.4 });
    expect(basisSentences(list)).toEqual([]);
    expect(meaningSentence(list)).toContain('width of a string, height of a row');
    expect(meaningSentence(listOf({}))).toMatch(/^± means/);
  });

  it('one value is as sure as its own error says', () => {
    expect(doubtOfValue(measured, 'rowMm')!.plusMinusMm).toBeGreaterThan(0);
    expect(doubtOfValue({ cordMm: 1.2 }, 'cordMm')).toBeNull();
  });
});

describe('how likely a cord comes out short', () => {
  it('[W1071] is said of the colour, in ones of so many rounded to two digits; else that it is rare, or in so many of ten', () => {
    expect(chance(null)).toBeNull();
    expect(chance(0.0009)).toMatch(/Less than 1 in 1,000/);
    expect(chance(0.0123)).toMatch(/^About 1 in 81 that a cord in the colour x runs short/);
    expect(chance(0.15)).toContain('1 in 7 ');
    expect(chance(0.2)).toMatch(/^About 2 in 10 that a cord in the colour x runs short.*Tie a swatch/);
  });

  it('[W1071] is rare where no cord is likelier than any other', () => {
    const list = listOf(whole);
    expect(chanceSentence({ ...list.doubt, chanceOfShort: 0, likeliestShort: null }, String)).toMatch(
      /Less than 1 in 1,000/,
    );
  });

  it('on paper stands behind what ± means, and is left out where it is not known', () => {
    expect(wordsOf(doubtNotes(listOf({}), String))).toMatch(/± means.*Nothing is measured.*runs short/);
    const unknown = wordsOf(doubtNotes(listOf({ cordMm: 1.2 }), String));
    expect(unknown).toContain('is not known');
    expect(unknown).not.toContain('runs short');
  });
});
