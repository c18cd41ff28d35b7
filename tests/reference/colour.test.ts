/** Colour against published values and against a colour library. */
import { converter, differenceCiede2000, wcagContrast } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../engine/colour/difference.ts';
import {
  contrastRatio,
  hexToLab,
  hexToRgb,
  labToHex,
  rgbToHex,
  type Sight,
  simulateSight,
} from '../../engine/colour/index.ts';
import type { Lab } from '../../engine/colour/lab.ts';
import { SIGHT_MATRICES } from '../../engine/colour/sight.ts';
import { encodedToLinear, linearToEncoded } from '../../engine/colour/srgb.ts';

/** CIEDE2000 difference of two hexes. */
const colourDifference = (one: string, two: string): number => ciede2000(hexToLab(one), hexToLab(two));

/**
 * Test data of G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula", Color Res. Appl. 30 (2005) 21-30,
 * table 1: L1 a1 b1 L2 a2 b2 difference.
 */
const SHARMA = `
50.0000,2.6772,-79.7751,50.0000,0.0000,-82.7485,2.0425
50.0000,3.1571,-77.2803,50.0000,0.0000,-82.7485,2.8615
50.0000,2.8361,-74.0200,50.0000,0.0000,-82.7485,3.4412
50.0000,-1.3802,-84.2814,50.0000,0.0000,-82.7485,1.0000
50.0000,-1.1848,-84.8006,50.0000,0.0000,-82.7485,1.0000
50.0000,-0.9009,-85.5211,50.0000,0.0000,-82.7485,1.0000
50.0000,0.0000,0.0000,50.0000,-1.0000,2.0000,2.3669
50.0000,-1.0000,2.0000,50.0000,0.0000,0.0000,2.3669
50.0000,2.4900,-0.0010,50.0000,-2.4900,0.0009,7.1792
50.0000,2.4900,-0.0010,50.0000,-2.4900,0.0010,7.1792
50.0000,2.4900,-0.0010,50.0000,-2.4900,0.0011,7.2195
50.0000,2.4900,-0.0010,50.0000,-2.4900,0.0012,7.2195
50.0000,-0.0010,2.4900,50.0000,0.0009,-2.4900,4.8045
50.0000,-0.0010,2.4900,50.0000,0.0010,-2.4900,4.8045
50.0000,-0.0010,2.4900,50.0000,0.0011,-2.4900,4.7461
50.0000,2.5000,0.0000,50.0000,0.0000,-2.5000,4.3065
50.0000,2.5000,0.0000,73.0000,25.0000,-18.0000,27.1492
50.0000,2.5000,0.0000,61.0000,-5.0000,29.0000,22.8977
50.0000,2.5000,0.0000,56.0000,-27.0000,-3.0000,31.9030
50.0000,2.5000,0.0000,58.0000,24.0000,15.0000,19.4535
50.0000,2.5000,0.0000,50.0000,3.1736,0.5854,1.0000
50.0000,2.5000,0.0000,50.0000,3.2972,0.0000,1.0000
50.0000,2.5000,0.0000,50.0000,1.8634,0.5757,1.0000
50.0000,2.5000,0.0000,50.0000,3.2592,0.3350,1.0000
60.2574,-34.0099,36.2677,60.4626,-34.1751,39.4387,1.2644
63.0109,-31.0961,-5.8663,62.8187,-29.7946,-4.0864,1.2630
61.2901,3.7196,-5.3901,61.4292,2.2480,-4.9620,1.8731
35.0831,-44.1164,3.7933,35.0232,-40.0716,1.5901,1.8645
22.7233,20.0904,-46.6940,23.0331,14.9730,-42.5619,2.0373
36.4612,47.8580,18.3852,36.2715,50.5065,21.2231,1.4146
90.8027,-2.0831,1.4410,91.1528,-1.6435,0.0447,1.4441
90.9257,-0.5406,-0.9208,88.6381,-0.8985,-0.7239,1.5381
6.7747,-0.2908,-2.4247,5.8714,-0.0985,-2.2286,0.6377
2.0776,0.0795,-1.1350,0.9033,-0.0636,-0.5514,0.9082`
  .trim()
  .split('\n')
  .map((line) => line.split(',').map(Number));

const hexes = fc.integer({ min: 0, max: 0xffffff }).map((value) => `#${value.toString(16).padStart(6, '0')}`);
const bytes = (hex: string) => hexToRgb(hex).map((channel) => Math.round(channel * 255));

describe('CIEDE2000', () => {
  it('[C1] gives the 34 printed differences of Sharma, Wu and Dalal to half their last digit, both ways round', () => {
    expect(SHARMA).toHaveLength(34);
    for (const [l1, a1, b1, l2, a2, b2, expected] of SHARMA as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ][]) {
      const one: Lab = [l1, a1, b1];
      const two: Lab = [l2, a2, b2];
      expect(Math.abs(ciede2000(one, two) - expected)).toBeLessThanOrEqual(5e-5);
      expect(Math.abs(ciede2000(two, one) - expected)).toBeLessThanOrEqual(5e-5);
    }
  });

  it('[C1] agrees with culori on D65 for any two screen colours', () => {
    const other = differenceCiede2000();
    const lab65 = converter('lab65');
    fc.assert(
      fc.property(hexes, hexes, (one, two) => {
        expect(colourDifference(one, two)).toBeCloseTo(other(lab65(one) ?? '', lab65(two) ?? ''), 3);
      }),
      { numRuns: 500 },
    );
  });
});

describe('CIELAB of screen colours', () => {
  it('[C1] gives the D65 values on which culori and colorjs.io agree', () => {
    const expected: Readonly<Record<string, Lab>> = {
      '#ff0000': [53.2371, 80.0901, 67.2033],
      '#00ff00': [87.7355, -86.1816, 83.1866],
      '#0000ff': [32.3009, 79.1953, -107.8555],
      '#808080': [53.585, 0, 0],
      '#ffd700': [86.9295, -1.9302, 87.1368],
    };
    for (const [hex, lab] of Object.entries(expected))
      hexToLab(hex).forEach((value, i) => {
        expect(Math.abs(value - (lab[i] as number))).toBeLessThanOrEqual(1.5e-4);
      });
  });

  it('[C1] agrees with culori for any screen colour, and goes back to the same hex', () => {
    const lab65 = converter('lab65');
    fc.assert(
      fc.property(hexes, (hex) => {
        const [l, a, b] = hexToLab(hex);
        const other = lab65(hex);
        expect(l).toBeCloseTo(other?.l ?? Number.NaN, 4);
        expect(a).toBeCloseTo(other?.a ?? Number.NaN, 4);
        expect(b).toBeCloseTo(other?.b ?? Number.NaN, 4);
        expect(labToHex([l, a, b])).toBe(hex);
        expect(rgbToHex(linearToEncoded(encodedToLinear(hexToRgb(hex))))).toBe(hex);
      }),
      { numRuns: 500 },
    );
  });
});

describe('contrast', () => {
  // Formula of W3C, WCAG 2.2; these ratios on white are those on which the packages wcag-contrast and culori agree.
  const ON_WHITE: Readonly<Record<string, number>> = {
    '#000000': 21,
    '#767676': 4.5422,
    '#777777': 4.4781,
    '#949494': 3.0335,
    '#959595': 2.9953,
    '#808080': 3.9494,
    '#595959': 7.0047,
    '#ff0000': 3.9985,
    '#0000ff': 8.5925,
    '#ffd700': 1.4026,
  };

  it('[C3] gives the known ratios on white, and does not round before comparing', () => {
    for (const [hex, ratio] of Object.entries(ON_WHITE)) {
      expect(contrastRatio(hex, '#ffffff')).toBeCloseTo(ratio, 4);
      expect(contrastRatio('#ffffff', hex)).toBe(contrastRatio(hex, '#ffffff'));
    }
    expect(contrastRatio('#949494', '#ffffff') >= 3).toBe(true);
    expect(contrastRatio('#959595', '#ffffff') >= 3).toBe(false);
    expect(contrastRatio('#767676', '#ffffff') >= 4.5).toBe(true);
    expect(contrastRatio('#777777', '#ffffff') >= 4.5).toBe(false);
  });

  it('[C3] agrees with culori for any two colours', () => {
    fc.assert(
      fc.property(hexes, hexes, (one, two) => {
        expect(contrastRatio(one, two)).toBeCloseTo(wcagContrast(one, two), 6);
      }),
      { numRuns: 300 },
    );
  });
});

describe('simulated sight', () => {
  // Tables of Machado, Oliveira, Fernandes 2009 (severity 1.0) on linear light, worked out outside this program.
  const EXPECTED: Readonly<Record<Exclude<Sight, 'normal'>, readonly (readonly number[])[]>> = {
    protan: [
      [109, 95, 0],
      [255, 229, 0],
      [0, 89, 255],
    ],
    deutan: [
      [163, 144, 0],
      [239, 214, 58],
      [0, 61, 251],
    ],
    tritan: [
      [255, 0, 15],
      [0, 247, 217],
      [0, 107, 150],
    ],
  };

  it('[C2] turns pure red, green and blue into the known colours', () => {
    for (const sight of ['protan', 'deutan', 'tritan'] as const)
      ['#ff0000', '#00ff00', '#0000ff'].forEach((hex, i) => {
        expect(bytes(simulateSight(hex, sight))).toEqual(EXPECTED[sight][i]);
      });
  });

  it('[C2] keeps greys grey: the rows of each matrix add up to 1', () => {
    for (const matrix of Object.values(SIGHT_MATRICES))
      for (const row of matrix) expect(row[0] + row[1] + row[2]).toBeCloseTo(1, 5);
    for (const grey of ['#000000', '#808080', '#ffffff'])
      for (const sight of ['normal', 'protan', 'deutan', 'tritan'] as const)
        expect(simulateSight(grey, sight)).toBe(grey);
  });

  it('[C2] is not what comes out of applying the matrix to encoded channels, as some packages do', () => {
    const encoded = SIGHT_MATRICES.protan.map((row) => row[0]) as [number, number, number];
    expect(rgbToHex(encoded)).toBe('#271d00');
    expect(simulateSight('#ff0000', 'protan')).toBe('#6d5f00');
  });

  it('[C2] lies near the older model of Viénot, Brettel and Mollon for red', () => {
    // Viénot, Brettel, Mollon, "Digital video colourmaps ...", Color Res. Appl. 24 (1999) 243-252, as sRGB matrices in
    // libDaltonLens: red becomes (94, 94, 13) for protan and (147, 147, 0) for deutan. Two models, so near, not equal.
    const protan = encodeBytes([0.11238, 0.11238, 0.00401]);
    const deutan = encodeBytes([0.29275, 0.29275, 0]);
    expect(bytes(protan)).toEqual([94, 94, 13]);
    expect(bytes(deutan)).toEqual([147, 147, 0]);
    const otherHues = colourDifference('#ff0000', '#6d5f00');
    expect(colourDifference(simulateSight('#ff0000', 'protan'), protan)).toBeLessThan(otherHues / 4);
    expect(colourDifference(simulateSight('#ff0000', 'deutan'), deutan)).toBeLessThan(otherHues / 4);
  });
});

function encodeBytes(linear: readonly [number, number, number]): string {
  return rgbToHex(linearToEncoded(linear));
}
