export { MAX_RING_CELLS } from './band-rows.ts';
export type { Frieze, FriezeSymmetries } from './frieze.ts';
export { MOTION_KINDS, type Motion, type MotionKind } from './motion.ts';
export {
  type KnotPlace,
  MAX_COMPARED_CELLS,
  type NearSymmetry,
  nearSymmetries,
} from './near-symmetry.ts';
export { repairSymmetry } from './repair-symmetry.ts';
export { mirrorBreaks, repairMirror, type Symmetry, type SymmetryBreak, symmetry } from './symmetry.ts';
