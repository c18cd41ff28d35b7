export { mend, mendBand, type MendOptions } from './mend.ts';
export { ANY_KNOT } from './routing.ts';
export { solvePicture } from './solve-picture.ts';
export type { SolveError } from './solve-error.ts';
export { checkTarget, type SolveTarget } from './target.ts';
