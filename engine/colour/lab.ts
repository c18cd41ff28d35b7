/** CIELAB under D65, the white of sRGB itself, so no chromatic adaptation comes in. */
import {
  encodedToLinear,
  hexToRgb,
  linearToEncoded,
  type Matrix3,
  multiply,
  type Rgb,
  rgbToHex,
} from './srgb.ts';

/** L* 0 to 100, a*, b*. */
export type Lab = readonly [number, number, number];

// From the primaries (0.64, 0.33) (0.30, 0.60) (0.15, 0.06) and white (0.3127, 0.3290) of IEC 61966-2-1, as exact fractions.
const LINEAR_TO_XYZ: Matrix3 = [
  [506752 / 1228815, 87881 / 245763, 12673 / 70218],
  [87098 / 409605, 175762 / 245763, 12673 / 175545],
  [7918 / 409605, 87881 / 737289, 1001167 / 1053270],
];
const XYZ_TO_LINEAR: Matrix3 = [
  [12831 / 3959, -329 / 214, -1974 / 3959],
  [-851781 / 878810, 1648619 / 878810, 36519 / 878810],
  [705 / 12673, -2585 / 12673, 705 / 667],
];
const WHITE: Rgb = [0.3127 / 0.329, 1, (1 - 0.3127 - 0.329) / 0.329];
const EPSILON = 216 / 24389;
const KAPPA = 24389 / 27;

/**
 * CIELAB (D65) of `#rrggbb`.
 * @throws RangeError when `hex` is not `#rrggbb`
 * Rule C1. Source: CIE 15 (Colorimetry).
 */
export function hexToLab(hex: string): Lab {
  return linearToLab(encodedToLinear(hexToRgb(hex)));
}

/** CIELAB (D65) of linear sRGB channels, 0 to 1. */
export function linearToLab(linear: Rgb): Lab {
  const xyz = multiply(LINEAR_TO_XYZ, linear);
  const fx = compress(xyz[0] / WHITE[0]);
  const fy = compress(xyz[1] / WHITE[1]);
  const fz = compress(xyz[2] / WHITE[2]);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

/** `#rrggbb` nearest to a CIELAB (D65) colour; channels outside sRGB are clipped. */
export function labToHex(lab: Lab): string {
  const fy = (lab[0] + 16) / 116;
  const xyz: Rgb = [
    WHITE[0] * expand(fy + lab[1] / 500),
    WHITE[1] * expand(fy),
    WHITE[2] * expand(fy - lab[2] / 200),
  ];
  return rgbToHex(linearToEncoded(multiply(XYZ_TO_LINEAR, xyz)));
}

function compress(t: number): number {
  return t > EPSILON ? Math.cbrt(t) : (KAPPA * t + 16) / 116;
}

function expand(f: number): number {
  const cube = f * f * f;
  return cube > EPSILON ? cube : (116 * f - 16) / KAPPA;
}
