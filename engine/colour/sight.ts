/** How a colour looks to those who lack one kind of cone. */
import {
  encodedToLinear,
  hexToRgb,
  linearToEncoded,
  type Matrix3,
  multiply,
  type Rgb,
  rgbToHex,
} from './srgb.ts';

/** Normal sight, or without the long-, the middle- or the short-wave cones. */
export type Sight = 'normal' | 'protan' | 'deutan' | 'tritan';

/** Every sight that can be simulated, `normal` first. */
export const SIGHTS: readonly Sight[] = ['normal', 'protan', 'deutan', 'tritan'];

/**
 * Severity 1.0, to be applied to linear channels.
 * Source: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-based model for simulation of color vision
 * deficiency", IEEE Trans. Vis. Comput. Graph. 15 (2009) 1291-1298, tables on the authors' page.
 */
export const SIGHT_MATRICES: Readonly<Record<Exclude<Sight, 'normal'>, Matrix3>> = {
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

/**
 * The `#rrggbb` that shows somebody with normal sight what `hex` looks like in `sight`; channels outside sRGB are clipped.
 * @throws RangeError when `hex` is not `#rrggbb`
 * Rule C2. The matrices act on linear light: several packages apply them to encoded channels and come out too dark.
 */
export function simulateSight(hex: string, sight: Sight): string {
  if (sight === 'normal') return rgbToHex(hexToRgb(hex));
  const linear = multiply(SIGHT_MATRICES[sight], encodedToLinear(hexToRgb(hex)));
  const clipped: Rgb = [clip(linear[0]), clip(linear[1]), clip(linear[2])];
  return rgbToHex(linearToEncoded(clipped));
}

function clip(v: number): number {
  return Math.min(1, Math.max(0, v));
}
