import { describe, expect, it } from 'vitest';
import { formatBoard, parseBoard, workingGauge } from '../../../engine/index.ts';
import { isHung } from '../../../engine/pattern/index.ts';

describe('the version of the board file', () => {
  const file = (version: number, piece: object) => ({
    format: 'larkboard',
    version,
    palette: [{ id: 'a', hex: '#000000' }],
    strings: ['a', 'a'],
    rows: ['f'],
    piece,
  });

  it('[P9] a file is of the lowest version that names its rules, and comes back', () => {
    for (const [version, piece] of [
      [1, {}],
      [1, { ring: 'round' }],
      [2, { singles: 'free' }],
      [2, { singles: 'forced', ring: 'round' }],
      [3, { lengthMm: 90, lengthOf: 'whole' }],
      [3, { lengthMm: 90, stopAt: 'finished', singles: 'free' }],
      [4, { begin: 'loose' }],
      [4, { begin: 'loop', loopMm: 12, headKnot: 'braid', headMm: 30, singles: 'free' }],
      [4, { begin: 'stick', lengthMm: 150, lengthOf: 'whole' }],
    ] as const) {
      const read = parseBoard(file(version, piece));
      if (!read.ok) throw new Error(read.error.message);
      expect(read.value.piece).toEqual(piece);
      expect(formatBoard(read.value).version).toBe(version);
      expect(parseBoard(formatBoard(read.value))).toEqual(read);
    }
    expect(parseBoard(file(2, {})).ok).toBe(true);
  });

  it('[P9] a file is of version 3 where it says what a piece costs beside thread, parts and knots', () => {
    const supplies = { threads: [{ hex: '#aa2211', name: 'brick', price: 1.2 }], parts: [] };
    const way = { id: 'w', name: 'W', pieces: 3, colours: [] };
    for (const [path, more] of [
      ['supplies', { supplies }],
      ['colourways[0].pieces', { colourways: [way] }],
      ['piece.marginShare', { piece: { marginShare: 0.2 } }],
      ['piece.pieces', { piece: { pieces: 12 } }],
    ] as const) {
      const read = parseBoard({ ...file(3, {}), ...more });
      if (!read.ok) throw new Error(read.error.message);
      expect([formatBoard(read.value).version, parseBoard(formatBoard(read.value))]).toEqual([3, read]);
      for (const version of [1, 2])
        expect(parseBoard({ ...file(version, {}), ...more })).toMatchObject({
          ok: false,
          error: { kind: 'unknown-field', path },
        });
    }
    expect(parseBoard(file(5, {}))).toMatchObject({
      ok: false,
      error: { kind: 'unknown-version', demand: { choices: '1, 2, 3, 4' } },
    });
  });

  it('[P9] [X110] an older file must not say how a band begins without a ring, and one that does not hangs from a ring', () => {
    for (const [field, value] of [
      ['begin', 'loose'],
      ['headKnot', 'none'],
      ['headMm', 30],
      ['loopMm', 12],
    ] as const)
      for (const version of [1, 2, 3])
        expect(parseBoard(file(version, { [field]: value }))).toMatchObject({
          ok: false,
          error: { kind: 'unknown-field', path: `piece.${field}` },
        });
    for (const version of [1, 2, 3, 4]) {
      const read = parseBoard(file(version, { ring: 'round', ringMm: 20 }));
      expect(read.ok && isHung(read.value.piece)).toBe(true);
      expect(read.ok && formatBoard(read.value).version).toBe(1);
    }
  });

  it('[P9] a file is of version 2 where a colourway has a maker, and one of version 1 must not name one', () => {
    const one = (version: number, maker: object) => ({
      ...file(version, {}),
      colourways: [{ id: 'w', name: 'W', ...maker, colours: [] }],
    });
    const read = parseBoard(one(2, { maker: { id: 'p', name: 'P' } }));
    if (!read.ok) throw new Error(read.error.message);
    expect([formatBoard(read.value).version, parseBoard(formatBoard(read.value))]).toEqual([2, read]);
    const plain = parseBoard(one(1, {}));
    expect(plain.ok && formatBoard(plain.value).version).toBe(1);
    expect(parseBoard(one(1, { maker: { id: 'p', name: 'P' } }))).toMatchObject({
      ok: false,
      error: { kind: 'unknown-field', path: 'colourways[0].maker' },
    });
  });

  it('[P9] a file of version 1 that names it is refused, and so is another rule', () => {
    expect(parseBoard(file(1, { singles: 'free' }))).toMatchObject({
      ok: false,
      error: { kind: 'unknown-field', path: 'piece.singles' },
    });
    for (const version of [1, 2])
      expect(parseBoard(file(version, { lengthMm: 90, stopAt: 'row' }))).toMatchObject({
        ok: false,
        error: { kind: 'unknown-field', path: 'piece.stopAt' },
      });
    expect(parseBoard(file(2, { singles: 'many' }))).toMatchObject({
      ok: false,
      error: { kind: 'out-of-range', path: 'piece.singles' },
    });
  });

  it('[P9] a file is of version 2 where it says how sure the gauge is, and one of version 1 must not', () => {
    const sure = (version: number, gauge: object) => ({ ...file(version, {}), gauge });
    const known = {
      knottingMm: 18,
      knottingErrorMm: 0.4,
      takeUpFreedom: 3,
      knottingCarrierCorrelation: -0.7,
    };
    const read = parseBoard(sure(2, known));
    if (!read.ok) throw new Error(read.error.message);
    expect(read.value.gauge).toEqual(known);
    expect([formatBoard(read.value).version, parseBoard(formatBoard(read.value))]).toEqual([2, read]);
    const plain = parseBoard(sure(1, { knottingMm: 18 }));
    expect(plain.ok && formatBoard(plain.value).version).toBe(1);
    expect(parseBoard(sure(1, known))).toMatchObject({
      ok: false,
      error: { kind: 'unknown-field', path: 'gauge.knottingErrorMm' },
    });
    expect(parseBoard(sure(2, { rowKnottingCorrelation: -1.1 }))).toMatchObject({
      ok: false,
      error: { kind: 'out-of-range', path: 'gauge.rowKnottingCorrelation' },
    });
    expect(parseBoard(sure(2, { rowErrorMm: -0.1 }))).toMatchObject({
      ok: false,
      error: { kind: 'out-of-range', path: 'gauge.rowErrorMm' },
    });
    expect(formatBoard({ ...read.value, gauge: {}, piece: { shortOneIn: 20 } }).version).toBe(2);
  });

  it('[P9] [L43] a file is of version 3 where it says which thread it is; an older one with a width is read as it was', () => {
    const of = (version: number, gauge: object) => parseBoard({ ...file(version, {}), gauge });
    const read = of(3, { thread: 'cord', threadMm: 2, cordMm: 3.1 });
    if (!read.ok) throw new Error(read.error.message);
    expect(read.value.gauge).toEqual({ thread: 'cord', threadMm: 2, cordMm: 3.1 });
    expect([formatBoard(read.value).version, parseBoard(formatBoard(read.value))]).toEqual([3, read]);
    for (const version of [1, 2])
      for (const gauge of [{ thread: 'floss' }, { threadMm: 2 }])
        expect(of(version, gauge)).toMatchObject({
          ok: false,
          error: { kind: 'unknown-field', path: `gauge.${Object.keys(gauge)[0]}` },
        });
    for (const version of [1, 2, 3]) {
      const old = of(version, { cordMm: 1.6, rowMm: 2 });
      if (!old.ok) throw new Error(old.error.message);
      expect(formatBoard(old.value).version).toBe(1);
      expect(workingGauge(old.value.gauge).cordMm).toEqual({ valueMm: 1.6, estimate: false });
    }
    expect(of(3, { thread: 'silk' })).toMatchObject({ ok: false, error: { path: 'gauge.thread' } });
  });
});
