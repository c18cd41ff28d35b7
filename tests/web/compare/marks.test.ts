import { describe, expect, it } from 'vitest';
import { type Command, compareDesigns, readKeyed } from '../../../engine/document/index.ts';
import { askedMarks, marksOf } from '../../../web/compare/marks.ts';
import { pairOf } from '../../support/compared-pair.ts';
import { openDesign, runAll } from '../../support/open-design.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';

describe('marks', () => {
  it('[A31] stand where each side has the place, rows that only one side has at its edge', () => {
    const { before, after, changes } = pairOf(
      { kind: 'insert-row-pairs', at: 1, count: 2 },
      { kind: 'set-knots', knots: [{ row: 7, k: 0, knot: 1 }] },
      { kind: 'delete-row-pairs', from: 5, count: 1 },
    );
    const [was, is] = marksOf(before, after, changes);
    expect(was.knots.filter(({ kind }) => kind === 'changed')).toEqual([{ row: 3, k: 0, kind: 'changed' }]);
    expect(is.knots.filter(({ kind }) => kind === 'changed')).toEqual([{ row: 7, k: 0, kind: 'changed' }]);
    expect([was.rows, is.rows]).toEqual([
      [{ from: 6, to: 7, kind: 'gone' }],
      [{ from: 2, to: 5, kind: 'added' }],
    ]);
  });

  it('[A31] a knot that stayed and shows another colour is marked apart', () => {
    const { before, after, changes } = pairOf({ kind: 'recolour-strings', strings: [0], colour: 'b' });
    const [was, is] = marksOf(before, after, changes);
    expect(was.strings).toEqual([{ at: 0, kind: 'changed' }]);
    expect(was.knots.length).toBeGreaterThan(0);
    expect(new Set(was.knots.map(({ kind }) => kind))).toEqual(new Set(['follows']));
    expect(is.knots).toEqual(was.knots);
  });

  it('[A31] a pattern made anew is marked place by place where it has the same shape, else not at all', () => {
    const pattern = samplePattern(6, 8);
    const knots = pattern.knots.slice();
    knots[0] = 3;
    const same = pairOf({ kind: 'replace-pattern', pattern: { ...pattern, knots } });
    const [was] = marksOf(same.before, same.after, same.changes);
    expect(was.knots.filter(({ kind }) => kind === 'changed')).toEqual([{ row: 0, k: 0, kind: 'changed' }]);
    const other = pairOf({ kind: 'replace-pattern', pattern: samplePattern(8, 8) });
    expect(marksOf(other.before, other.after, other.changes)[0]).toEqual({
      knots: [],
      rows: [],
      strings: [],
    });
  });

  it('[A33] what both sides changed is a question at its place', () => {
    const { before, changes } = pairOf(
      { kind: 'set-knots', knots: [{ row: 2, k: 1, knot: 4 }] },
      { kind: 'recolour-strings', strings: [3], colour: 'b' },
      { kind: 'delete-row-pairs', from: 3, count: 1 },
    );
    expect(askedMarks(before, changes)).toEqual({
      knots: [{ row: 2, k: 1, kind: 'asked' }],
      rows: [{ from: 6, to: 7, kind: 'asked' }],
      strings: [{ at: 3, kind: 'asked' }],
    });
  });

  it('[A31] strings that came are marked where they are, those that went where they were', () => {
    const { before, after, changes } = pairOf(
      { kind: 'insert-string-pairs', at: 1, count: 1, colours: ['r', 'g'] } as Command,
      { kind: 'delete-string-pairs', from: 3, count: 1 },
    );
    const [was, is] = marksOf(before, after, changes);
    expect(was.strings).toEqual([
      { at: 4, kind: 'gone' },
      { at: 5, kind: 'gone' },
    ]);
    expect(is.strings).toEqual([
      { at: 2, kind: 'added' },
      { at: 3, kind: 'added' },
    ]);
    expect(askedMarks(before, changes).strings.map(({ at }) => at)).toEqual([4, 5]);
  });

  it('[A31] what is hidden at an edge is not marked', () => {
    const design = openDesign(sampleBoard(6, 8));
    runAll(design, { kind: 'set-ends', firstHidden: true });
    const before = readKeyed(design.doc)!;
    runAll(
      design,
      { kind: 'set-knots', knots: [{ row: 0, k: 0, knot: 4 }] },
      { kind: 'delete-row-pairs', from: 0, count: 1 },
    );
    const after = readKeyed(design.doc)!;
    const changes = compareDesigns(before, after);
    const [was] = marksOf(before, after, changes);
    expect(was.rows).toEqual([{ from: 0, to: 0, kind: 'gone' }]);
    expect(askedMarks(before, changes).rows).toEqual([{ from: 0, to: 0, kind: 'asked' }]);
  });

  it('[A31] a palette whose look changed marks what shows it; the pattern made anew too', () => {
    const pattern = samplePattern(6, 8);
    const recoloured = { ...pattern, colours: pattern.colours.map((id) => (id === 'r' ? 'g' : id)) };
    const { before, after, changes } = pairOf({ kind: 'replace-pattern', pattern: recoloured });
    const [was, is] = marksOf(before, after, changes);
    expect(was.strings).toEqual([
      { at: 0, kind: 'changed' },
      { at: 3, kind: 'changed' },
    ]);
    expect(is.strings).toEqual(was.strings);
    expect(was.knots.some(({ kind }) => kind === 'follows')).toBe(true);
  });
});
