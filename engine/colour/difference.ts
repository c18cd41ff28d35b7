/**
 * How different two colours look. The page would carry more of a colour library than it uses: this, Lab, contrast and simulated sight
 * are some 200 lines of our own, checked in the tests against published data and a library.
 */
import type { Lab } from './lab.ts';

const DEGREE = Math.PI / 180;
const POW_25_7 = 25 ** 7;

/**
 * CIEDE2000 colour difference with kL = kC = kH = 1. 0 = equal; symmetric.
 * Rule C1. Source: G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference formula: implementation notes,
 * supplementary test data, and mathematical observations", Color Res. Appl. 30 (2005) 21-30, equations 2 to 22.
 */
export function ciede2000(one: Lab, two: Lab): number {
  const [l1, a1, b1] = one;
  const [l2, a2, b2] = two;
  const meanChroma = (Math.hypot(a1, b1) + Math.hypot(a2, b2)) / 2;
  const g = 0.5 * (1 - Math.sqrt(meanChroma ** 7 / (meanChroma ** 7 + POW_25_7)));
  const a1p = (1 + g) * a1;
  const a2p = (1 + g) * a2;
  const c1p = Math.hypot(a1p, b1);
  const c2p = Math.hypot(a2p, b2);
  const h1p = hueDegrees(a1p, b1);
  const h2p = hueDegrees(a2p, b2);
  const isGrey = c1p * c2p === 0;

  let turn = isGrey ? 0 : h2p - h1p;
  if (turn > 180) turn -= 360;
  else if (turn < -180) turn += 360;
  const deltaL = l2 - l1;
  const deltaC = c2p - c1p;
  const deltaH = 2 * Math.sqrt(c1p * c2p) * Math.sin((turn / 2) * DEGREE);

  const meanL = (l1 + l2) / 2;
  const meanC = (c1p + c2p) / 2;
  const meanH = isGrey ? h1p + h2p : meanHue(h1p, h2p);
  const t =
    1 -
    0.17 * Math.cos((meanH - 30) * DEGREE) +
    0.24 * Math.cos(2 * meanH * DEGREE) +
    0.32 * Math.cos((3 * meanH + 6) * DEGREE) -
    0.2 * Math.cos((4 * meanH - 63) * DEGREE);
  const theta = 30 * Math.exp(-(((meanH - 275) / 25) ** 2));
  const rc = 2 * Math.sqrt(meanC ** 7 / (meanC ** 7 + POW_25_7));
  const lSquare = (meanL - 50) ** 2;
  const sl = 1 + (0.015 * lSquare) / Math.sqrt(20 + lSquare);
  const sc = 1 + 0.045 * meanC;
  const sh = 1 + 0.015 * meanC * t;
  const rt = -Math.sin(2 * theta * DEGREE) * rc;

  const x = deltaL / sl;
  const y = deltaC / sc;
  const z = deltaH / sh;
  return Math.sqrt(x * x + y * y + z * z + rt * y * z);
}

function hueDegrees(a: number, b: number): number {
  if (a === 0 && b === 0) return 0;
  const degrees = Math.atan2(b, a) / DEGREE;
  return degrees < 0 ? degrees + 360 : degrees;
}

function meanHue(h1: number, h2: number): number {
  const sum = h1 + h2;
  if (Math.abs(h1 - h2) <= 180) return sum / 2;
  return sum < 360 ? (sum + 360) / 2 : (sum - 360) / 2;
}
