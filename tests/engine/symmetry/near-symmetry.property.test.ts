import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  nearSymmetries,
  type Pattern,
  patternFromText,
  repairMirror,
  repairSymmetry,
  repeatCycle,
  symmetry,
  tilePattern,
  weave,
} from '../../../engine/index.ts';
import { knotsInRow, rowParity, rowStride } from '../../../engine/pattern/pattern.ts';
import { rowsAsText } from '../../../engine/pattern/text.ts';
import { closeRepeat } from '../../../engine/pattern/transforms.ts';
import { MOTION_KINDS, type Motion, type MotionKind } from '../../../engine/symmetry/motion.ts';
import { bandToOrder, orderOfCycles } from '../../support/orders.ts';
import { anyPattern, pictureOf } from '../../support/patterns.ts';

/** The endless picture: which colour shows at a row, from 0 on and on, and a place; '' where none. */
function endless(pattern: Pattern): (row: number, place: number) => string {
  const closed = closeRepeat(pattern);
  const tiled = tilePattern(closed, repeatCycle(closed).colours);
  const picture = pictureOf(tiled);
  return (row, place) => {
    const at = ((row % tiled.rows) + tiled.rows) % tiled.rows;
    return picture[at]![(place - ((tiled.start + at) & 1)) / 2] ?? '';
  };
}

const period = (pattern: Pattern) => {
  const closed = closeRepeat(pattern);
  return closed.rows * repeatCycle(closed).colours;
};

/** How many cells of the ring fall on another colour, said in coordinates; null where a cell falls on no cell. */
function wrongCells(pattern: Pattern, { kind, rows }: Motion): number | null {
  const strings = pattern.colours.length;
  const at = endless(pattern);
  let wrong = 0;
  for (let row = 0; row < period(pattern); row++)
    for (let place = (pattern.start + row) & 1; place + 1 < strings; place += 2) {
      const toPlace = kind === 'upside-down' ? place : strings - 2 - place;
      const toRow = kind === 'upside-down' || kind === 'half-turn' ? rows - row : row + rows;
      if (((pattern.start + toRow + toPlace) & 1) !== 0) return null;
      if (at(row, place) !== at(toRow, toPlace)) wrong++;
    }
  return wrong;
}

/** Whether every boundary between rows falls on one with the same colours, from the tiled band row by row. */
function isOrderKept(pattern: Pattern, { kind, rows }: Motion): boolean {
  const closed = closeRepeat(pattern);
  const tiled = tilePattern(closed, repeatCycle(closed).colours);
  const orders = weave(tiled).order.map((order) => Array.from(order, (string) => tiled.colours[string]));
  return orders.every((order, boundary) => {
    const to = kind === 'upside-down' || kind === 'half-turn' ? rows + 1 - boundary : rows + boundary;
    const image = orders[((to % tiled.rows) + tiled.rows) % tiled.rows]!;
    return (kind === 'upside-down' ? image : image.toReversed()).join() === order.join();
  });
}

const LIKE: Readonly<Record<MotionKind, string>> = {
  // Token by token: - f b fb bf.
  mirror: '- b f bf fb',
  glide: '- b f bf fb',
  'upside-down': '- b f fb bf',
  'half-turn': '- f b bf fb',
};

/** Whether every knot falls on its like; on itself only on the middle line of the mirror may it differ. */
function areKnotsKept(pattern: Pattern, { kind, rows }: Motion): boolean {
  const strings = pattern.colours.length;
  const tokens = rowsAsText(closeRepeat(pattern)).map((row) => row.split(' '));
  const like = LIKE[kind].split(' ');
  return tokens.every((row, r) => {
    const to = kind === 'upside-down' || kind === 'half-turn' ? rows - r : r + rows;
    const image = tokens[((to % tokens.length) + tokens.length) % tokens.length]!;
    return row.every((token, k) => {
      if (token === '') return true;
      const other = kind === 'upside-down' ? k : row.length - 1 - k;
      if (kind === 'mirror' && other === k && strings % 2 === 0) return true;
      return image[other] === like[['-', 'f', 'b', 'fb', 'bf'].indexOf(token)];
    });
  });
}

/** Knots and colours of strings that the repair changes. */
function changesOf(pattern: Pattern, motion: Motion): number {
  const closed = closeRepeat(pattern);
  const repaired = repairSymmetry(pattern, motion);
  const knots = [...closed.knots].filter((knot, i) => knot !== repaired.knots[i]);
  return knots.length + closed.colours.filter((colour, i) => colour !== repaired.colours[i]).length;
}

const small = anyPattern({ maxStrings: 6, maxRows: 6, maxColours: 3 }).filter(
  (pattern) => pattern.rows > 0 && repeatCycle(pattern).colours <= 6,
);

describe('nearSymmetries', () => {
  it('[S7] of each kind what is kept, else what takes fewest changes, whichever rows are tried', () => {
    const seen = new Map<string, number>();
    fc.assert(
      fc.property(small, (pattern) => {
        const found = nearSymmetries(pattern);
        const ranks = found.map(({ picture, changes }) => (picture ? 0 : 1 + changes));
        expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
        for (const kind of MOTION_KINDS) {
          const first = kind === 'glide' ? 1 : 0;
          const last = kind === 'mirror' ? 0 : period(pattern) - 1 + first;
          const all = Array.from({ length: last - first + 1 }, (_, i): Motion => ({ kind, rows: first + i }))
            .map((motion) => ({ motion, wrong: wrongCells(pattern, motion) }))
            .filter(({ wrong }) => wrong !== null);
          const best = found.find((motion) => motion.kind === kind);
          if (all.length === 0) {
            expect(best).toBeUndefined();
            continue;
          }
          const isKept = all.some(({ wrong }) => wrong === 0);
          expect(best!.picture).toBe(isKept);
          expect(best!.breaks.length === 0).toBe(isKept);
          expect(best!.changes).toBe(changesOf(pattern, best!));
          if (isKept) expect(wrongCells(pattern, best!)).toBe(0);
          else {
            const fewest = Math.min(...all.map(({ motion }) => changesOf(pattern, motion)));
            // More rows than the ring has may do with fewer: the repaired band has another.
            expect(best!.changes, kind).toBeLessThanOrEqual(fewest);
          }
          const name = `${kind} ${isKept}`;
          seen.set(name, (seen.get(name) ?? 0) + 1);
        }
      }),
      { numRuns: 300, seed: 41 },
    );
    for (const kind of MOTION_KINDS)
      for (const isKept of [true, false]) expect(seen.get(`${kind} ${isKept}`) ?? 0, kind).toBeGreaterThan(3);
  });

  it('[S7] one slip in a band with a symmetry is one change, however far the picture runs apart below it', () => {
    // Its half turn is kept but for the last knot of the first row, which shows another string to all rows below.
    const slip = patternFromText(
      ['1', '0', '1', '1', '1', '0'],
      ['f fb bf', 'b bf', 'b b b', 'fb b', 'b bf f', 'f f'],
    );
    expect(nearSymmetries(slip)[0]).toMatchObject({ picture: false, changes: 1 });
    let slips = 0;
    fc.assert(
      fc.property(
        anyPattern({ maxStrings: 8, maxRows: 10, maxColours: 3 }),
        fc.constantFrom(...MOTION_KINDS),
        fc.nat(30),
        fc.nat(),
        fc.integer({ min: 1, max: 4 }),
        (pattern, kind, half, at, more) => {
          const isOdd = kind !== 'upside-down' && pattern.colours.length % 2 === 1;
          if (pattern.rows === 0 || (kind === 'mirror' && isOdd)) return;
          const motion = { kind, rows: kind === 'mirror' ? 0 : 2 * half + (isOdd ? 1 : 0) };
          const whole = repairSymmetry(pattern, motion);
          const cells = [...whole.knots.keys()].filter((cell) => whole.knots[cell] !== 0);
          if (cells.length === 0) return;
          const cell = cells[at % cells.length]!;
          const knots = whole.knots.slice();
          knots[cell] = 1 + ((knots[cell]! - 1 + more) % 4);
          const band = { ...whole, knots };
          const found = nearSymmetries(band).find((near) => near.kind === kind)!;
          if (!found.picture) {
            expect(found.changes).toBeLessThanOrEqual(1);
            slips++;
          }
        },
      ),
      { numRuns: 200, seed: 7 },
    );
    expect(slips).toBeGreaterThan(30);
  });

  it('[S7] what it calls kept is what the frieze group says', () => {
    fc.assert(
      fc.property(small, (pattern) => {
        // Where nothing is tied there is no stagger to keep.
        if (pattern.knots.every((knot) => knot === 0)) return;
        const { band } = symmetry(pattern);
        const isKept = (kind: MotionKind) =>
          nearSymmetries(pattern).some((motion) => motion.kind === kind && motion.picture);
        expect(isKept('mirror')).toBe(band!.leftRight);
        expect(isKept('upside-down')).toBe(band!.upsideDown);
        expect(isKept('half-turn')).toBe(band!.halfTurn);
        expect(isKept('glide')).toBe(band!.glide);
      }),
      { numRuns: 120 },
    );
  });

  it('[S7] bands of very many rows, and those whose colours recur late, have their motions too', () => {
    // Two strings, 4,000 rows, one row odd among all that are alike: hardly a row tells two motions apart.
    const rows = Array.from({ length: 4000 }, (_, row): string => (row % 2 === 1 ? '' : 'fb'));
    rows[1800] = '-';
    const long = nearSymmetries(patternFromText(['a', 'b'], rows));
    // What is tied with a forward-backward knot alone has no mirror; the odd row is on an axis and at a centre.
    expect(long.map(({ kind }) => kind).toSorted()).toEqual([...MOTION_KINDS].toSorted());
    // Cycles of 2, 3, 5, 7, 11, 13, 17 and 19 strings, all colours different: 9,699,690 repeats.
    const late = bandToOrder(orderOfCycles([2, 3, 5, 7, 11, 13, 17, 19]));
    const isOdd = late.colours.length % 2 === 1;
    const found = nearSymmetries(late);
    expect(found.map(({ kind }) => kind).toSorted()).toEqual(
      MOTION_KINDS.filter((kind) => !(isOdd && kind === 'mirror')).toSorted(),
    );
    for (const near of found) {
      expect(near.breaks.length).toBeGreaterThan(0);
      expect(near.changes).toBe(changesOf(late, near));
    }
  });

  it('[S8] one wrong knot in a mirrored band is the one break, by row and number', () => {
    const rows = ['f b', '-', 'f b', '-', 'fb fb', '-'];
    const found = nearSymmetries(patternFromText(['a', 'b', 'b', 'a'], rows));
    const mirror = found.find(({ kind }) => kind === 'mirror')!;
    expect(mirror).toMatchObject({ picture: false, order: true, knots: false });
    expect(mirror.breaks).toEqual([{ row: 4, k: 0 }]);
  });

  it('[S8] a picture can be kept where knots are not', () => {
    // All strings of one colour: forward or backward, the picture is the same.
    const found = nearSymmetries(patternFromText(['a', 'a', 'a', 'a'], ['f f', 'b', 'f b', 'f']));
    expect(found.map(({ kind, picture }) => [kind, picture])).toEqual(
      MOTION_KINDS.map((kind) => [kind, true]),
    );
    expect(found[0]).toMatchObject({ kind: 'mirror', knots: false, order: true, breaks: [] });
  });
});

/** Where a knot can be tied. */
function cellsOf({ colours, rows, start }: Pattern): number[] {
  const stride = rowStride(colours.length);
  const cells: number[] = [];
  for (let row = 0; row < rows; row++)
    for (let k = 0; k < knotsInRow(colours.length, rowParity(start, row)); k++) cells.push(row * stride + k);
  return cells;
}

describe('repairSymmetry', () => {
  const anyMotion = fc.record({ kind: fc.constantFrom(...MOTION_KINDS), seed: fc.nat(40) });
  const motionFor = (pattern: Pattern, { kind, seed }: { kind: MotionKind; seed: number }): Motion | null => {
    const isOdd = kind !== 'upside-down' && pattern.colours.length % 2 === 1;
    if (kind === 'mirror') return isOdd ? null : { kind, rows: 0 };
    return { kind, rows: 2 * seed + (isOdd ? 1 : 0) };
  };

  it('[S9] the endless picture, the knots and the order are kept afterwards, whatever the motion', () => {
    const done = new Map<MotionKind, number>();
    fc.assert(
      fc.property(anyPattern({ maxStrings: 9, maxRows: 9 }), anyMotion, (pattern, wish) => {
        const motion = motionFor(pattern, wish);
        if (motion === null || pattern.rows === 0) return;
        const before = structuredClone(pattern);
        const repaired = repairSymmetry(pattern, motion);
        expect(pattern).toEqual(before);
        expect(areKnotsKept(repaired, motion)).toBe(true);
        if (repeatCycle(repaired).colours <= 20) {
          expect(wrongCells(repaired, motion)).toBe(0);
          expect(isOrderKept(repaired, motion)).toBe(true);
        }
        expect(repairSymmetry(repaired, motion)).toEqual(repaired);
        expect([repaired.start, repaired.colours.length]).toEqual([pattern.start, pattern.colours.length]);
        done.set(motion.kind, (done.get(motion.kind) ?? 0) + 1);
      }),
      { numRuns: 1000, seed: 5 },
    );
    for (const kind of MOTION_KINDS) expect(done.get(kind) ?? 0, kind).toBeGreaterThan(50);
  });

  it('[S9] of all knots that keep the motion none are nearer, tried one by one', () => {
    let tried = 0;
    fc.assert(
      fc.property(anyPattern({ maxStrings: 4, maxRows: 4, maxColours: 2 }), anyMotion, (pattern, wish) => {
        const motion = motionFor(pattern, wish);
        if (motion === null || pattern.rows === 0) return;
        const closed = closeRepeat(pattern);
        const cells = cellsOf(closed);
        if (cells.length > 5) return;
        const own = cells.map((cell) => closed.knots[cell]!);
        let fewest = Number.POSITIVE_INFINITY;
        for (let code = 0; code < 5 ** cells.length; code++) {
          const knots = closed.knots.slice();
          cells.forEach((cell, i) => {
            knots[cell] = Math.floor(code / 5 ** i) % 5;
          });
          const changed = own.filter((knot, i) => knot !== knots[cells[i]!]).length;
          if (changed < fewest && areKnotsKept({ ...closed, knots }, motion)) fewest = changed;
        }
        const repaired = repairSymmetry(pattern, motion);
        expect(cells.filter((cell) => repaired.knots[cell] !== closed.knots[cell]).length).toBe(fewest);
        tried++;
      }),
      { numRuns: 150, seed: 3 },
    );
    expect(tried).toBeGreaterThan(40);
  });

  it('[S9] whose knots stay where two differ is for the maker to say', () => {
    const colours = ['a', 'b', 'b', 'a'];
    const upsideDown: Motion = { kind: 'upside-down', rows: 2 };
    const other = patternFromText(colours, ['f f', 'fb', 'b f', '-']);
    expect(rowsAsText(repairSymmetry(other, upsideDown, 'first'))).toEqual(['f b', 'fb', 'b f', '-']);
    expect(rowsAsText(repairSymmetry(other, upsideDown, 'second'))).toEqual(['f f', 'fb', 'b b', '-']);
  });

  it('[S9] the motion that is nearly kept is kept afterwards', () => {
    fc.assert(
      fc.property(small, (pattern) => {
        for (const near of nearSymmetries(pattern)) {
          const repaired = repairSymmetry(pattern, near);
          const again = nearSymmetries(repaired).find(({ kind }) => kind === near.kind)!;
          expect(again).toMatchObject({ picture: true, breaks: [] });
        }
      }),
      { numRuns: 200 },
    );
  });

  it('[S9] a band that keeps the motion already stays as it is', () => {
    const colours = ['a', 'b', 'b', 'a'];
    const mirrored = patternFromText(colours, ['f b', 'f', 'fb bf', '-']);
    expect(repairSymmetry(mirrored, { kind: 'mirror', rows: 0 })).toEqual(mirrored);
    const turned = patternFromText(colours, ['fb fb', 'f', 'bf fb', 'b']);
    expect(repairSymmetry(turned, { kind: 'upside-down', rows: 0 })).toEqual(turned);
  });

  it('[S9] the mirror is the repair of the mirror, left onto right', () => {
    fc.assert(
      fc.property(anyPattern({ maxRows: 8 }), (pattern) => {
        if (pattern.colours.length % 2 === 1) return;
        const closed = closeRepeat(pattern);
        expect(repairSymmetry(pattern, { kind: 'mirror', rows: 0 })).toEqual(repairMirror(closed, 'left'));
      }),
    );
  });

  it('[S9] the rows from the axis on keep their knots, those on the axis the string that shows', () => {
    const colours = ['a', 'b', 'c', 'd'];
    const pattern = patternFromText(colours, ['f b', 'fb', 'f -', 'b', 'b b', 'bf']);
    const repaired = repairSymmetry(pattern, { kind: 'upside-down', rows: 0 });
    expect(repaired).toEqual(patternFromText(colours, ['fb bf', 'fb', 'f -', 'bf', 'b -', 'fb']));
  });

  it('[S9] a motion that does not fit is refused with its numbers', () => {
    const three = patternFromText(['a', 'b', 'c'], ['f', 'b']);
    expect(() => repairSymmetry(three, { kind: 'mirror', rows: 0 })).toThrow(/mirror of 0 rows .* 3 strings/);
    expect(() => repairSymmetry(three, { kind: 'upside-down', rows: 1 })).toThrow(/upside-down of 1 rows/);
    expect(() => repairSymmetry(three, { kind: 'upside-down', rows: -2 })).toThrow(/of -2 rows/);
    expect(() => repairSymmetry(three, { kind: 'glide', rows: 0.5 })).toThrow(/of 0.5 rows/);
  });

  it('[S9] no rows: only colours are repaired', () => {
    const none: Pattern = { colours: ['a', 'b'], start: 0, rows: 0, knots: new Uint8Array(0) };
    expect(repairSymmetry(none, { kind: 'mirror', rows: 0 }).colours).toEqual(['a', 'a']);
    expect(repairSymmetry(none, { kind: 'upside-down', rows: 0 })).toEqual(none);
  });
});
