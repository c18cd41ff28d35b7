/** What HiGHS said of pictures that cannot be, as solve-least.ts keeps it. */
import { readFileSync } from 'node:fs';
import type { SolveTarget } from '../../engine/solve/target.ts';
import { changedPicture, drawnPicture, type PictureSize } from '../support/pictures.ts';
import type { LeastWrong } from './solve-programme.ts';

/** Where it is kept, from the root of the project on: benches are built into another folder. */
export const KEPT_LEAST = 'tests/reference/solve-least.json';

/** A picture and what HiGHS says of it. */
export interface KeptLeast extends LeastWrong, PictureSize {
  readonly seed: number;
  /** Share of cells changed; 0: drawn. */
  readonly share: number;
}

/** The picture of an entry. */
export function pictureOf(entry: Pick<KeptLeast, 'seed' | 'share' | keyof PictureSize>): SolveTarget {
  return entry.share === 0 ? drawnPicture(entry.seed, entry) : changedPicture(entry.seed, entry, entry.share);
}

/** What is kept so far. */
export function keptLeast(): readonly KeptLeast[] {
  return JSON.parse(readFileSync(KEPT_LEAST, 'utf8')) as KeptLeast[];
}
