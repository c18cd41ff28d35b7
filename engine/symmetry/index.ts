export type { FriezeSymmetries } from './frieze.ts';
export { type NearSymmetry, nearSymmetries } from './near-symmetry.ts';
export { stayingRows } from './repair-knots.ts';
export { repairSymmetry } from './repair-symmetry.ts';
export { mirrorBreaks, repairMirror, type Symmetry, type SymmetryBreak, symmetry } from './symmetry.ts';
