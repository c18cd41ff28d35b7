/** The lead-in of a pattern whose rows come and go. */
import { expect, test } from 'vitest';
import type { Command, Design } from '../../../engine/document/index.ts';
import { cutList } from '../../../engine/index.ts';
import { openDesign, rowsOf, runAll } from '../../support/open-design.ts';
import { sampleBoard } from '../../support/sample-board.ts';

/** 8 rows, the first 4 of them a lead-in. */
function withLeadIn(ends: Omit<Extract<Command, { kind: 'set-ends' }>, 'kind'> = {}): Design {
  const design = openDesign(sampleBoard(8, 10));
  runAll(design, { kind: 'set-piece', patch: { leadInRows: 4, repeats: 3 } }, { kind: 'set-ends', ...ends });
  return design;
}

/** The rows of the lead-in, and those of a repeat. */
function partsOf(design: Design): readonly [readonly string[], readonly string[]] {
  const { leadInRows = 0 } = design.snapshot.board.piece;
  const rows = rowsOf(design);
  return [rows.slice(0, leadInRows), rows.slice(leadInRows)];
}

const UNTIED = ['- - - -', '- - -'];

test('[Y32] rows that go in above or within the lead-in belong to it, those right below it to the repeats', () => {
  for (const [at, inLeadIn] of [
    [0, 0],
    [1, 2],
    [2, null],
    [3, null],
  ] as const) {
    const design = withLeadIn();
    const [leadIn, repeat] = partsOf(design);
    runAll(design, { kind: 'insert-row-pairs', at, count: 1 });
    const [leadInNow, repeatNow] = partsOf(design);
    if (inLeadIn === null) expect([at, leadInNow]).toEqual([at, leadIn]);
    else {
      expect([at, repeatNow]).toEqual([at, repeat]);
      expect(leadInNow).toEqual(leadIn.toSpliced(inLeadIn, 0, ...UNTIED));
    }
    design.undo();
    expect(partsOf(design)).toEqual([leadIn, repeat]);
  }
});

test('[Y32] rows that go out take nothing of the other part along', () => {
  for (const [from, count, leadInLeft, repeatLeft] of [
    [0, 1, 2, 6],
    [1, 1, 2, 6],
    [1, 2, 2, 4],
    [2, 1, 4, 4],
    [0, 5, 0, 0],
  ] as const) {
    const design = withLeadIn();
    const [leadIn, repeat] = partsOf(design);
    runAll(design, { kind: 'delete-row-pairs', from, count });
    const [leadInNow, repeatNow] = partsOf(design);
    expect([from, count, leadInNow.length, repeatNow.length]).toEqual([from, count, leadInLeft, repeatLeft]);
    expect(leadIn.join('|')).toContain(leadInNow.join('|'));
    expect(repeat.join('|')).toContain(repeatNow.join('|'));
    design.undo();
    expect(partsOf(design)).toEqual([leadIn, repeat]);
  }
});

test('[Y32] the first row leaves the lead-in when it is hidden and comes back to it', () => {
  const design = withLeadIn();
  const [leadIn, repeat] = partsOf(design);
  runAll(design, { kind: 'set-ends', firstHidden: true });
  expect(partsOf(design)).toEqual([leadIn.slice(1), repeat]);
  // Also with pairs that go in before and out of what is hidden.
  runAll(design, { kind: 'insert-row-pairs', at: 1, count: 1 });
  expect(partsOf(design)[1]).toEqual(repeat);
  runAll(design, { kind: 'delete-row-pairs', from: 1, count: 1 });
  expect(partsOf(design)).toEqual([leadIn.slice(1), repeat]);
  runAll(design, { kind: 'set-ends', firstHidden: false });
  expect(partsOf(design)).toEqual([leadIn, repeat]);
});

test('[Y32] [L7] untied rows put in above a lead-in lengthen each string by their height once, not with each repeat', () => {
  const design = withLeadIn();
  const before = cutList(design.snapshot.board);
  runAll(design, { kind: 'insert-row-pairs', at: 0, count: 1 });
  const after = cutList(design.snapshot.board);
  expect(after.size.rows).toBe(before.size.rows + 2);
  after.ends.forEach(({ needMm, knotting, carrier }, place) => {
    const was = before.ends[place]!;
    expect([knotting, carrier]).toEqual([was.knotting, was.carrier]);
    expect(needMm).toBeCloseTo(was.needMm + 2 * before.gauge.rowMm.valueMm, 6);
  });
});
