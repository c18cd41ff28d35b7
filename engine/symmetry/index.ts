export { MAX_RING_CELLS } from './band-rows.ts';
export type { Frieze, FriezeSymmetries } from './frieze.ts';
export { repairMirror, type Symmetry, type SymmetryBreak, symmetry } from './symmetry.ts';
