import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TEXTURES } from '../../../engine/colour/textures.ts';
import {
  checkPalette,
  patternFromText,
  pictureSvg,
  TEXTURE_MARKS,
  texturesOf,
} from '../../../engine/index.ts';

const colour = (id: string, hex: string) => ({ id, name: id, hex });
const hexes = fc
  .tuple(fc.nat(255), fc.nat(255), fc.nat(255))
  .map((parts) => `#${parts.map((part) => part.toString(16).padStart(2, '0')).join('')}`);

describe('textures', () => {
  it('[C7] colours that everybody tells apart stay plain', () => {
    const textures = texturesOf([colour('a', '#000000'), colour('b', '#ffffff'), colour('c', '#1f66c0')]);
    expect([...textures.values()]).toEqual([0, 0, 0]);
  });

  it('[C7] of three that look alike each gets its own', () => {
    const textures = texturesOf([colour('a', '#808080'), colour('b', '#818181'), colour('c', '#828282')]);
    expect([...textures]).toEqual([
      ['a', 0],
      ['b', 1],
      ['c', 2],
    ]);
  });

  it('[C7] no hard pair shares a texture while there are as many textures as colours', () => {
    let hardPairs = 0;
    fc.assert(
      fc.property(fc.array(hexes, { maxLength: TEXTURES + 1 }), (found) => {
        const palette = found.map((hex, i) => colour(`c${i}`, hex));
        const textures = texturesOf(palette);
        for (const { colours } of checkPalette(palette).pairs) {
          hardPairs += 1;
          expect(textures.get(colours[0])).not.toBe(textures.get(colours[1]));
        }
        for (const texture of textures.values()) expect(texture).toBeLessThanOrEqual(TEXTURES);
      }),
      { seed: 7, numRuns: 300 },
    );
    expect(hardPairs).toBeGreaterThan(20);
  });

  it('[C7] more alike colours than textures share them evenly', () => {
    const palette = Array.from({ length: 2 * (TEXTURES + 1) }, (_, i) =>
      colour(`c${i}`, `#8080${(128 + i).toString(16)}`),
    );
    const counts = new Map<number, number>();
    for (const texture of texturesOf(palette).values()) counts.set(texture, (counts.get(texture) ?? 0) + 1);
    expect(new Set(counts.values())).toEqual(new Set([2]));
  });

  it('[C8] marks lie inside the lozenge, none leans, and no two textures are alike', () => {
    expect(TEXTURE_MARKS.length).toBe(TEXTURES + 1);
    const out: string[] = [];
    TEXTURE_MARKS.forEach(({ lines, dots }, number) => {
      const ends = lines.flatMap(([x0, y0, x1, y1]) => [[x0, y0] as const, [x1, y1] as const]);
      for (const [x, y] of [...ends, ...dots])
        if (Math.abs(x) + Math.abs(y) > 1 + 1e-9) out.push(`${number}: ${x} ${y}`);
      for (const [x0, y0, x1, y1] of lines) if (x0 !== x1 && y0 !== y1) out.push(`${number} leans`);
    });
    expect(out).toEqual([]);
    expect(new Set(TEXTURE_MARKS.map((marks) => JSON.stringify(marks))).size).toBe(TEXTURES + 1);
  });

  it('[C8] a picture draws them on the knots of the colours that have one, and on no other', () => {
    const palette = [colour('a', '#808080'), colour('b', '#818181')];
    const pattern = patternFromText(['a', 'b', 'b', 'a'], ['f b', 'f', '- bf']);
    const drawn = (textures?: ReadonlyMap<string, number>) =>
      pictureSvg(pattern, palette, { title: 'Test input', ...(textures && { textures }) }).split(
        '<path class="texture"',
      ).length - 1;
    expect(drawn()).toBe(0);
    // a shows in both knots of the first row and, after they crossed, in the second; b in the last one.
    expect(
      drawn(
        new Map([
          ['a', 0],
          ['b', 1],
        ]),
      ) +
        drawn(
          new Map([
            ['a', 1],
            ['b', 0],
          ]),
        ),
    ).toBe(4);
    expect(
      drawn(
        new Map([
          ['a', 0],
          ['b', 1],
        ]),
      ),
    ).toBeGreaterThan(0);
  });
});
