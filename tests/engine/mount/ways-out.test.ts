import { describe, expect, it } from 'vitest';
import {
  applyWayOut,
  type Board,
  cutList,
  formatBoard,
  type Pattern,
  parseBoard,
  patternFromText,
  planBoard,
  planMount,
  type WayOut,
  type WaysOut,
  waysOut,
  weave,
} from '../../../engine/index.ts';
import { sampleBoard, samplePattern } from '../../support/sample-board.ts';

const crossed = patternFromText([...'abcabc'], ['f b f', 'fb bf', 'f f b', 'b f']);

function wayOf(kind: WayOut['kind'], pattern: Pattern): WayOut {
  const way = waysOut(pattern).ways.find((w) => w.kind === kind);
  if (way === undefined) throw new Error(`no way out of kind ${kind}`);
  return way;
}

describe('waysOut', () => {
  it('[M16] a neat order needs none', () => {
    expect(waysOut(patternFromText([...'abba'], ['f b'])).ways).toEqual([]);
  });

  it('[M16] each way is listed with its price and leads to the plan it names', () => {
    const { plan, ways } = waysOut(crossed);
    expect(plan.crossings.length).toBe(3);
    expect(ways.map(({ kind }) => kind)).toEqual(
      expect.arrayContaining(['lead-in', 'recolour', 'singles', 'accept']),
    );
    for (const way of ways) {
      const { pattern, leadInRows } = applyWayOut(crossed, way);
      const own = planMount(pattern.colours, way.kind === 'singles' ? { singles: 'free' } : {});
      expect(own.crossings.length).toBe(way.plan.crossings.length);
      expect(own.singles.length).toBe(way.plan.singles.length);
      expect(leadInRows).toBe(way.kind === 'lead-in' ? pattern.rows - crossed.rows : 0);
      if (way.kind !== 'accept' && way.kind !== 'start') expect(way.plan.neat).toBe(true);
    }
  });

  it('[M16] a lead-in leaves the picture of the pattern as it is', () => {
    const way = wayOf('lead-in', crossed);
    const { pattern, leadInRows } = applyWayOut(crossed, way);
    const shown = (p: Pattern) => weave(p).shown.map((row) => [...row].map((s) => p.colours[s]));
    expect(leadInRows).toBeGreaterThan(0);
    expect(shown(pattern).slice(leadInRows)).toEqual(shown(crossed));
  });

  it('[M16] accepting says which colours show on the back, and how often', () => {
    const way = wayOf('accept', crossed);
    if (way.kind !== 'accept') throw new Error('another way');
    expect(way.crossings).toBe(3);
    // a, b, c lie side by side and go on in this order: b over a, c over a and over b.
    expect(way.shown).toEqual([
      { colour: 'c', crossings: 2 },
      { colour: 'b', crossings: 1 },
    ]);
  });

  it('[M16] recolouring with further singles is listed where it changes fewer places', () => {
    const { ways } = waysOut(patternFromText([...'abab'], ['fb fb']));
    const recolourings = ways.flatMap((way) =>
      way.kind === 'recolour' ? [[way.recolouring.changes.length, way.furtherSingles]] : [],
    );
    expect(recolourings).toEqual([
      [2, 0],
      [1, 2],
    ]);
  });

  it('[M16] beginning elsewhere comes first where the strings stand better after a row, and only there', () => {
    const turned = patternFromText([...'abab'], ['- f', '-']);
    const { plan, ways } = waysOut(turned);
    const [first] = ways;
    expect([first!.kind, plan.crossings.length, first!.plan.crossings.length]).toEqual(['start', 1, 0]);
    const { pattern, leadInRows } = applyWayOut(turned, first!);
    // After the first row, in which b and a change places: a b b a.
    expect([pattern.colours, pattern.rows, leadInRows]).toEqual([[...'abba'], 2, 0]);
    expect(waysOut(patternFromText([...'abab'], ['- -', '-'])).ways.map(({ kind }) => kind)).not.toContain(
      'start',
    );
  });

  it('[M16] colours that show equally often are listed by name', () => {
    const way = wayOf('accept', patternFromText([...'dcdcbaba'], []));
    expect(way.kind === 'accept' && way.shown).toEqual([
      { colour: 'a', crossings: 1 },
      { colour: 'c', crossings: 1 },
    ]);
  });

  it('[M16] recolouring uses the colours of the order and those it was given, and none else', () => {
    for (const palette of [[], ['x', 'y']])
      for (const way of waysOut(patternFromText([...'abcdabcd'], []), { palette }).ways)
        if (way.kind === 'recolour')
          for (const { colour } of way.recolouring.changes)
            expect(['a', 'b', 'c', 'd', ...palette]).toContain(colour);
  });

  it('[M16] a way out of another pattern is refused', () => {
    const other = patternFromText([...'abcd'], ['f f', 'f']);
    for (const kind of ['recolour', 'lead-in'] as const)
      expect(() => applyWayOut(other, wayOf(kind, crossed)), kind).toThrow(RangeError);
    expect(applyWayOut(other, wayOf('accept', crossed)).pattern).toBe(other);
  });

  it('[M46] tells the ways known so far, and in the end all of them', () => {
    const half = Array.from({ length: 7 }, (_, i) => `c${(i * 3) % 7}`);
    const pattern = patternFromText([...half, ...half.toSorted()], ['f f f f f f f']);
    const told: WaysOut[] = [];
    const all = waysOut(pattern, { onBest: (best) => told.push(best) });
    const kindsOf = ({ ways }: WaysOut) => ways.map(({ kind }) => kind);
    expect(kindsOf(told[0]!)).toEqual(['singles', 'accept']);
    const order = kindsOf(all).filter((kind) => kind !== 'recolour');
    expect(kindsOf(told.at(-1)!)).toEqual(order);
    for (const { plan, ways } of told) {
      expect(plan).toEqual(all.plan);
      expect(order).toEqual(expect.arrayContaining(ways.map(({ kind }) => kind)));
      for (const way of ways) if (way.kind === 'lead-in') expect(way.plan.neat).toBe(true);
    }
    const rows = told.flatMap(({ ways }) =>
      ways.flatMap((way) => (way.kind === 'lead-in' ? [way.leadIn.rows] : [])),
    );
    expect(rows).toEqual(rows.toSorted((a, b) => b - a));
    expect(rows.length).toBeGreaterThan(1);
  });

  it('[M10] tells its progress', () => {
    const shares: number[] = [];
    waysOut(crossed, { onProgress: (share) => shares.push(share) });
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
    const neat: number[] = [];
    waysOut(patternFromText([...'abba'], []), { onProgress: (share) => neat.push(share) });
    expect(neat).toEqual([1]);
  });
});

describe('planBoard', () => {
  it('[M17] follows the rule that the board names, and so does its cutting list', () => {
    const board: Board = {
      ...sampleBoard(6, 4),
      pattern: { ...samplePattern(6, 4), colours: [...'rgbrgb'] },
    };
    const chosen: Board = { ...board, piece: { ...board.piece, singles: 'free' } };
    expect(planBoard(board)).toEqual(planMount(board.pattern.colours));
    expect(planBoard(chosen)).toEqual(planMount(board.pattern.colours, { singles: 'free' }));
    expect(planBoard(board).neat).toBe(false);
    expect(planBoard(chosen).neat).toBe(true);
    const singles = (one: Board): readonly number[] => cutList(one).singles.map(({ place }) => place);
    expect(singles(chosen)).toEqual(planBoard(chosen).singles);
    expect(singles(board)).toEqual(planBoard(board).singles);
    expect(singles(chosen).length).toBeGreaterThan(singles(board).length);
    const read = parseBoard(formatBoard(chosen));
    expect(read.ok && read.value.piece.singles).toBe('free');
  });
});
