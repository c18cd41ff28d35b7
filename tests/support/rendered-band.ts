/** Photos of bands as they are never taken, but could be: laid in perspective, bent, lit, textured and put through a JPEG. */
import type { Pixels } from '../../engine/image/pixels.ts';
import type { PhotoGrid, PhotoPoint } from '../../engine/photo/photo-grid.ts';
import type { SeededRandom } from './seeded-random.ts';

export interface PhotoScene {
  readonly strings: number;
  readonly start: 0 | 1;
  /** Linear light of each knot, as rows. */
  readonly knots: readonly (readonly (readonly [number, number, number])[])[];
  /** How far the band is tilted away at its lower end and turned in the picture, in degrees. */
  readonly tilt: number;
  readonly turn: number;
  /** In widths of the band. */
  readonly bend: number;
  readonly kelvin: number;
  /** Share of knots that are half covered by a stain. */
  readonly stained: number;
  /** 1 to 100, as encoders count it. */
  readonly quality: number;
}

const WIDTH = 420;
const HEIGHT = 620;

/** Share of red, green and blue in the light of a lamp beside daylight of 6500 K; between two, on a line. Read off Planck's law at 600, 540 and 450 nm. */
function lampOf(kelvin: number): [number, number, number] {
  const planck = (nm: number, k: number): number => nm ** -5 / (Math.exp(1.4388e7 / (nm * k)) - 1);
  const [red, green, blue] = [600, 540, 450].map((nm) => planck(nm, kelvin) / planck(nm, 6500)) as [
    number,
    number,
    number,
  ];
  const most = Math.max(red, green, blue);
  return [red / most, green / most, blue / most];
}

/** The photo, and the band on it as a person lays it: corners up to two pixels off, the bend up to a fiftieth of the width. */
export function photographed(scene: PhotoScene, random: SeededRandom): { pixels: Pixels; grid: PhotoGrid } {
  const { strings, start, knots, bend } = scene;
  const rows = knots.length;
  const high = 1.12 * (rows + 1);
  const scale = 0.82 * Math.min(WIDTH / strings, HEIGHT / high);
  const [tilt, turn] = [scene.tilt, scene.turn].map((degrees) => (degrees * Math.PI) / 180) as [
    number,
    number,
  ];
  const distance = 2.2 * high;
  /** From the band, in places from its middle, to the photo: tilted about its middle, seen from a point, turned. */
  const project = (across: number, down: number): PhotoPoint => {
    const [y, z] = [down * Math.cos(tilt), down * Math.sin(tilt)];
    const near = distance / (distance + z);
    const [px, py] = [across * near * scale, y * near * scale];
    return {
      x: WIDTH / 2 + px * Math.cos(turn) - py * Math.sin(turn),
      y: HEIGHT / 2 + px * Math.sin(turn) + py * Math.cos(turn),
    };
  };
  /** Back again: the ray through a pixel meets the plane of the band. */
  const back = (x: number, y: number): { across: number; down: number } => {
    const [dx, dy] = [x - WIDTH / 2, y - HEIGHT / 2];
    const px = (dx * Math.cos(turn) + dy * Math.sin(turn)) / scale;
    const py = (-dx * Math.sin(turn) + dy * Math.cos(turn)) / scale;
    const down = (py * distance) / (distance * Math.cos(tilt) - py * Math.sin(tilt));
    const near = distance / (distance + down * Math.sin(tilt));
    return { across: px / near, down };
  };
  const lamp = lampOf(scene.kelvin);
  const stained = new Set(knots.flat().filter(() => random.chance(scene.stained)));
  const light = new Float64Array(3 * WIDTH * HEIGHT);
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const { across, down } = back(x + 0.5, y + 0.5);
      const v = down / high + 0.5;
      const u = (across / strings + 0.5 - bend * 4 * v * (1 - v)) * strings - 0.5;
      const knot = knotAt(knots, start, u, v * (rows + 1));
      // Brighter at one side, darker at the seams of knots, and grain.
      const side = 1 - 0.2 * (x / WIDTH);
      const shade = knot === null ? 1 : 1 - 0.35 * knot.edge ** 4;
      // Some knots are stained to one side.
      const isStained = knot !== null && stained.has(knot.light) && knot.side > 0;
      const colour = isStained ? [0.12, 0.09, 0.06] : (knot?.light ?? [0.55, 0.5, 0.45]);
      for (let channel = 0; channel < 3; channel++)
        light[3 * (y * WIDTH + x) + channel] =
          colour[channel]! * lamp[channel]! * side * shade * (1 + 0.3 * (random.next() - 0.5));
    }
  const ends = [
    [-strings / 2, -high / 2],
    [strings / 2, -high / 2],
    [strings / 2, high / 2],
    [-strings / 2, high / 2],
  ].map(([across, down]) => project(across!, down!));
  const laid = ends.map(({ x, y }) => ({ x: x + 4 * random.next() - 2, y: y + 4 * random.next() - 2 }));
  return {
    pixels: throughJpeg(light, scene.quality),
    grid: {
      strings,
      start,
      rows,
      corners: laid as unknown as PhotoGrid['corners'],
      bend: bend + 0.04 * (random.next() - 0.5),
    },
  };
}

function knotAt(
  knots: PhotoScene['knots'],
  start: 0 | 1,
  across: number,
  down: number,
): { light: readonly [number, number, number]; edge: number; side: number } | null {
  for (let row = Math.floor(down) - 1; row <= Math.floor(down); row++) {
    const parity = (row + start) & 1;
    for (const k of [
      Math.floor((across - parity) / 2) - 1,
      Math.floor((across - parity) / 2),
      Math.floor((across - parity) / 2) + 1,
    ]) {
      const light = knots[row]?.[k];
      if (light === undefined) continue;
      const edge = Math.abs(across - (2 * k + parity) - 0.5) + Math.abs(down - row - 1);
      if (edge <= 1) return { light, edge, side: across - (2 * k + parity) - 0.5 };
    }
  }
  return null;
}

/** Tables K.1 and K.2 of ITU-T T.81. */
const LUMINANCE = [
  16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14, 17, 22,
  29, 51, 87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49, 64, 78, 87, 103,
  121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
];
const CHROMINANCE = [
  17,
  18,
  24,
  47,
  99,
  99,
  99,
  99,
  18,
  21,
  26,
  66,
  99,
  99,
  99,
  99,
  24,
  26,
  56,
  99,
  99,
  99,
  99,
  99,
  47,
  66,
  ...Array.from({ length: 38 }, () => 99),
];
const COSINES = Array.from({ length: 8 }, (_, k) =>
  Array.from(
    { length: 8 },
    (_x, x) => Math.cos(((2 * x + 1) * k * Math.PI) / 16) * (k === 0 ? Math.SQRT1_2 : 1) * 0.5,
  ),
);

/** What is left of linear light after it was kept as a JPEG: rounded waves of 8 by 8 pixels, in brightness and two colours. */
function throughJpeg(light: Float64Array, quality: number): Pixels {
  const percent = quality < 50 ? 5000 / quality : 200 - 2 * quality;
  const tables = [LUMINANCE, CHROMINANCE, CHROMINANCE].map((table) =>
    table.map((step) => Math.min(255, Math.max(1, Math.floor((step * percent + 50) / 100)))),
  );
  const planes = [0, 1, 2].map(() => new Float64Array(WIDTH * HEIGHT));
  for (let i = 0; i < WIDTH * HEIGHT; i++) {
    const [r, g, b] = [0, 1, 2].map((channel) => 255 * encoded(light[3 * i + channel]!)) as [
      number,
      number,
      number,
    ];
    planes[0]![i] = 0.299 * r + 0.587 * g + 0.114 * b - 128;
    planes[1]![i] = -0.1687 * r - 0.3313 * g + 0.5 * b;
    planes[2]![i] = 0.5 * r - 0.4187 * g - 0.0813 * b;
  }
  for (const [i, plane] of planes.entries()) roundWaves(plane, tables[i]!);
  const rgba = new Uint8ClampedArray(4 * WIDTH * HEIGHT);
  for (let i = 0; i < WIDTH * HEIGHT; i++) {
    const [y, cb, cr] = [planes[0]![i]! + 128, planes[1]![i]!, planes[2]![i]!];
    rgba.set([y + 1.402 * cr, y - 0.34414 * cb - 0.71414 * cr, y + 1.772 * cb, 255], 4 * i);
  }
  return { width: WIDTH, height: HEIGHT, rgba };
}

function encoded(v: number): number {
  const clipped = Math.min(1, Math.max(0, v));
  return clipped <= 0.0031308 ? clipped * 12.92 : 1.055 * clipped ** (1 / 2.4) - 0.055;
}

/** Each whole block of 8 by 8, there and back with rounded waves. */
function roundWaves(plane: Float64Array, table: readonly number[]): void {
  const half = new Float64Array(64);
  const waves = new Float64Array(64);
  for (let top = 0; top + 8 <= HEIGHT; top += 8)
    for (let left = 0; left + 8 <= WIDTH; left += 8) {
      for (let y = 0; y < 8; y++)
        for (let k = 0; k < 8; k++) {
          let sum = 0;
          for (let x = 0; x < 8; x++) sum += plane[(top + y) * WIDTH + left + x]! * COSINES[k]![x]!;
          half[8 * y + k] = sum;
        }
      for (let j = 0; j < 8; j++)
        for (let k = 0; k < 8; k++) {
          let sum = 0;
          for (let y = 0; y < 8; y++) sum += half[8 * y + k]! * COSINES[j]![y]!;
          const step = table[8 * j + k]!;
          waves[8 * j + k] = Math.round(sum / step) * step;
        }
      for (let y = 0; y < 8; y++)
        for (let k = 0; k < 8; k++) {
          let sum = 0;
          for (let j = 0; j < 8; j++) sum += waves[8 * j + k]! * COSINES[j]![y]!;
          half[8 * y + k] = sum;
        }
      for (let y = 0; y < 8; y++)
        for (let x = 0; x < 8; x++) {
          let sum = 0;
          for (let k = 0; k < 8; k++) sum += half[8 * y + k]! * COSINES[k]![x]!;
          plane[(top + y) * WIDTH + left + x] = sum;
        }
    }
}
