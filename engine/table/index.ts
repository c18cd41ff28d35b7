export { compareTied } from './compare-tied.ts';
export { findPlace } from './find-place.ts';
export { hangingAfter } from './hanging.ts';
export { knotKey, readKnotKey, stepKey, type TiedKeys } from './piece-knot.ts';
export { looseKnots, nextStep, tieThrough, undoKnot } from './progress.ts';
export { groupSteps, type StepGroup, type StepSize } from './step-groups.ts';
export { stillNeeded } from './still-needed.ts';
export { untie } from './untie.ts';
