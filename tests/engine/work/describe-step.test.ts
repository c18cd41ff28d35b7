import { describe, expect, it } from 'vitest';
import {
  type Board,
  describeStep,
  ENGLISH_STEP_WORDS,
  mirrorPattern,
  patternFromText,
  type StepWords,
  type WorkStep,
  workOrder,
} from '../../../engine/index.ts';

const palette = [
  { id: 't', name: 'teal', hex: '#008080' },
  { id: 'c', name: 'coral', hex: '#ff7f50' },
  { id: 'n', name: ' ', hex: '#ffffff' },
];

function boardOf(colours: string, rows: readonly string[], piece: Board['piece'] = {}): Board {
  const pattern = patternFromText([...colours], rows);
  return { title: 'plain test input', palette, pattern, piece, gauge: {}, colourways: [] };
}

function stepAt(board: Board, index: number): WorkStep {
  const order = workOrder(board, { method: 'rows', covers: 'piece' });
  if (!order.ok) throw new Error(order.error.message);
  return order.steps[index]!;
}

describe('a step in words', () => {
  const board = boardOf('tctcct', ['- - -', '- -', '- f -', 'fb bf']);

  it('[O9] names row, knot, colours and places', () => {
    expect(describeStep(stepAt(board, 0), board)).toBe(
      'Row 3: forward knot with teal over coral, 3rd and 4th from the left.',
    );
  });

  it('[O9] counts from the right for the left-handed; the knot stays what it is', () => {
    expect(describeStep(stepAt(board, 2), board, { view: 'left-handed' })).toBe(
      'Row 4: backward-forward knot with coral over teal, 2nd and 3rd from the right.',
    );
    expect(describeStep(stepAt(board, 1), board, { view: 'left-handed' })).toBe(
      'Row 4: forward-backward knot with coral number 5 over coral number 3, 4th and 5th from the right.',
    );
    expect(describeStep(stepAt(board, 0), board, { view: 'left-handed' })).toBe(
      'Row 3: forward knot with teal over coral, 3rd and 4th from the right.',
    );
  });

  it('[O9] exchanges left and right, forward and backward, for those who sit opposite', () => {
    expect(describeStep(stepAt(board, 1), board, { view: 'mirrored' })).toBe(
      'Row 4: backward-forward knot with coral number 5 over coral number 3, 4th and 5th from the left.',
    );
    const mirrored = describeStep(stepAt(board, 0), board, { view: 'mirrored', length: 'long' });
    expect(mirrored).toContain('backward knot');
    expect(mirrored).toContain('a half hitch to the left');
    expect(mirrored).toContain('ends on the left');
  });

  it('[O9] mirrored, a step reads as the step of the mirrored band does', () => {
    const kinds = new Set<string>();
    const colours = [...'tctcct'];
    const rows = ['f b fb', 'bf f', '- f b', 'fb b', 'b b f', 'f bf'];
    const plain = boardOf(colours.join(''), rows);
    const mirrored = { ...plain, pattern: mirrorPattern(plain.pattern) };
    const stepsOf = (board: Board): readonly WorkStep[] => {
      const order = workOrder(board, { method: 'rows', covers: 'piece' });
      if (!order.ok) throw new Error(order.error.message);
      return order.steps;
    };
    const others = stepsOf(mirrored);
    for (const step of stepsOf(plain)) {
      const place = colours.length - 2 - step.place;
      const other = others.find((one) => one.row === step.row && one.place === place)!;
      for (const length of ['short', 'long'] as const) {
        // Which step a maker comes from is told apart from what it says: both are told without a run before them.
        const told = describeStep({ ...step, isPickUp: true }, plain, { view: 'mirrored', length });
        expect(told).toBe(describeStep({ ...other, isPickUp: true }, mirrored, { length }));
      }
      kinds.add(step.kind);
    }
    expect([...kinds].sort()).toEqual(['b', 'bf', 'f', 'fb']);
  });

  it('[O9] numbers the strings by their places at the top where the colours are the same', () => {
    expect(describeStep(stepAt(board, 1), board)).toBe(
      'Row 4: forward-backward knot with coral number 2 over coral number 4, 2nd and 3rd from the left.',
    );
    const nameless = boardOf('ntnn', ['f f']);
    expect(describeStep(stepAt(nameless, 0), nameless)).toContain('with number 1 over teal');
    expect(describeStep(stepAt(nameless, 1), nameless)).toContain('with number 3 over number 4');
  });

  it('[O9] explains the half hitches of each knot in the long form', () => {
    const all = boardOf('tctctctc', ['f b fb bf']);
    const long = [0, 1, 2, 3].map((i) => describeStep(stepAt(all, i), all, { length: 'long' }));
    expect(long[0]).toBe(
      'Row 1: forward knot with teal over coral, 1st and 2nd from the left: take up teal, hold coral straight, and tie a half ' +
        'hitch to the right (over coral, round behind it and out through the loop, and pull tight), then a second one just ' +
        'like it, so that teal ends on the right.',
    );
    expect(long[1]).toContain('so that coral ends on the left');
    expect(long[2]).toContain('then one back to the left, so that teal ends on the left, where it began');
    expect(long[3]).toContain('then one back to the right, so that coral ends on the right, where it began');
  });

  it('[O9] says go on when the string is in the hand already', () => {
    const carried = boardOf('tccc', ['f -', 'f']);
    expect(describeStep(stepAt(carried, 1), carried, { length: 'long' })).toContain('go on with teal');
  });

  it('[O9] names lead-in, repeat and end', () => {
    const piece = boardOf('tctc', ['f f', 'f', 'f f', 'f', 'f f'], {
      repeats: 2,
      leadInRows: 1,
      end: 'triangle',
    });
    const order = workOrder(piece, { method: 'rows', covers: 'piece' });
    if (!order.ok) throw new Error(order.error.message);
    const texts = order.steps.map((step) => describeStep(step, piece));
    expect(texts[0]).toMatch(/^Lead-in, row 1: /);
    expect(texts[2]).toMatch(/^Row 2: /);
    expect(texts[8]).toMatch(/^Repeat 2, row 2: /);
    expect(texts[texts.length - 1]).toMatch(/^End, row 1: /);
  });

  it('[O9] counts 1st, 2nd, 3rd, 4th, 11th, 12th, 13th, 21st, 111th', () => {
    expect([1, 2, 3, 4, 11, 12, 13, 21, 22, 111].map(ENGLISH_STEP_WORDS.ordinal)).toEqual([
      '1st',
      '2nd',
      '3rd',
      '4th',
      '11th',
      '12th',
      '13th',
      '21st',
      '22nd',
      '111th',
    ]);
  });

  it('[O9] takes the words of another language, and refuses a text with an unknown place to fill in', () => {
    const words: StepWords = {
      ...ENGLISH_STEP_WORDS,
      ordinal: (n) => `${n}.`,
      row: 'Reihe {row}',
      fromLeft: '{first} und {second} von links',
      short: '{where}: {knotting} um {carrier}, {places}.',
    };
    expect(describeStep(stepAt(board, 0), board, { words })).toBe(
      'Reihe 3: teal um coral, 3. und 4. von links.',
    );
    expect(() => describeStep(stepAt(board, 0), board, { words: { ...words, short: '{colour}' } })).toThrow(
      /colour/,
    );
  });

  it('[O9] refuses a colour that the palette lacks', () => {
    expect(() => describeStep(stepAt(board, 0), { ...board, palette: [] })).toThrow(/string 2.*"t"/);
  });
});
