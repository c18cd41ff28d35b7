import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkPalette, TEXTURES, texturesOf } from '../../engine/index.ts';

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
});
