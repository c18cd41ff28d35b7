import { describe, expect, it } from 'vitest';
import { formatBoard, parseBoard } from '../../engine/index.ts';

describe('the board file and the rule of singles', () => {
  const file = (version: number, piece: object) => ({
    format: 'larkboard',
    version,
    palette: [{ id: 'a', hex: '#000000' }],
    strings: ['a', 'a'],
    rows: ['f'],
    piece,
  });

  it('[P9] a file is of version 2 exactly where it names the rule, and comes back', () => {
    for (const [version, piece] of [
      [1, {}],
      [1, { ring: 'round' }],
      [2, { singles: 'free' }],
      [2, { singles: 'forced', ring: 'round' }],
    ] as const) {
      const read = parseBoard(file(version, piece));
      if (!read.ok) throw new Error(read.error.message);
      expect(read.value.piece).toEqual(piece);
      expect(formatBoard(read.value).version).toBe(version);
      expect(parseBoard(formatBoard(read.value))).toEqual(read);
    }
    expect(parseBoard(file(2, {})).ok).toBe(true);
  });

  it('[P9] a file of version 1 that names it is refused, and so is another rule', () => {
    expect(parseBoard(file(1, { singles: 'free' }))).toMatchObject({
      ok: false,
      error: { kind: 'unknown-field', path: 'piece.singles' },
    });
    expect(parseBoard(file(2, { singles: 'many' }))).toMatchObject({
      ok: false,
      error: { kind: 'out-of-range', path: 'piece.singles' },
    });
  });
});
