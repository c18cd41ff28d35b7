/** The picture that stands there before the board does. */
import { expect, it } from 'vitest';
import { glanceSvg, MAX_ROWS, weave } from '../../../engine/index.ts';
import { rowParity, rowStride } from '../../../engine/pattern/pattern.ts';
import { sampleBoard } from '../../support/sample-board.ts';

/** Every lozenge with its colour, as `x y colour`. */
function lozengesOf(svg: string): string[] {
  return [...svg.matchAll(/<path d="([^"]*)" fill="([^"]*)"/g)].flatMap(([, d = '', hex]) =>
    [...d.matchAll(/M([\d.]+) ([\d.]+)l1 1-1 1-1-1z/g)].map(([, x, y]) => `${x} ${y} ${hex}`),
  );
}

it('[W1020] shows each knot in the colour that it shows on the board, and nothing where none is tied', () => {
  for (const start of [0, 1] as const) {
    const { pattern, palette } = sampleBoard();
    const turned = { ...pattern, start };
    const strings = pattern.colours.length;
    const { shownFlat } = weave(turned);
    const stride = rowStride(strings);
    const meant: string[] = [];
    for (let row = 0; row < pattern.rows; row += 1)
      for (let k = 0, place = rowParity(start, row); place + 1 < strings; k += 1, place += 2) {
        if (pattern.knots[row * stride + k] === 0) continue;
        const id = pattern.colours[shownFlat[row * stride + k]!];
        meant.push(`${place + 0.5} ${row} ${palette.find((one) => one.id === id)!.hex}`);
      }
    const svg = glanceSvg(turned, palette);
    expect(meant.length).toBeGreaterThan(2);
    expect(lozengesOf(svg).sort()).toEqual(meant.sort());
    expect(svg).toContain(`viewBox="-0.5 0 ${strings} ${pattern.rows + 1}"`);
    expect(svg).toMatch(/<path d="M[^"]*v2[^"]*" stroke=/);
  }
});

it('[W1020] is short however large the board is, and says how high all of it is', () => {
  const { palette } = sampleBoard();
  const colours = Array.from({ length: 200 }, (_, i) => palette[i % palette.length]!.id);
  const pattern = {
    start: 0,
    rows: MAX_ROWS,
    colours,
    knots: new Uint8Array(MAX_ROWS * 100).fill(1),
  } as const;
  const svg = glanceSvg(pattern, palette);
  expect(lozengesOf(svg).length).toBeLessThanOrEqual(2_500);
  expect(svg.length).toBeLessThan(80_000);
  expect(svg).toContain(`viewBox="-0.5 0 200 ${MAX_ROWS + 1}"`);
  expect(() => glanceSvg(pattern, [])).toThrow(RangeError);
});
