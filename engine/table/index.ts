export { askPlace, type LowKnot, type SeenKnot } from './ask-place.ts';
export { compareTied } from './compare-tied.ts';
export { endSwatch, endsToMeasure } from './end-swatch.ts';
export { findPlace, placesIn } from './find-place.ts';
export { hangingAfter } from './hanging.ts';
export { type AsItStays, ifTiedSo, type Mistake, mistakenKind } from './if-it-stays.ts';
export { type LeftOver, lastRows } from './last-row.ts';
export { type MendedPiece, mendPiece } from './mend-piece.ts';
export {
  AS_BOARD,
  backToBoard,
  codesWith,
  nameSteps,
  type OwnPiece,
  ownPiece,
  type OwnWay,
  renamedWay,
  wholePiece,
} from './own-way.ts';
export {
  minutesFor,
  paceOf,
  pausesIn,
  REST_AFTER_MS,
  sinceRestMs,
  type TiedMark,
} from './pace.ts';
export { knotKey, readKnotKey, stepKey, type TiedKeys } from './piece-knot.ts';
export { looseKnots, nextStep, stepsLeft, tieThrough, undoKnot } from './progress.ts';
export { LAY_IN_KNOTS, type LayIn, layIns, type Reach, reachOf } from './running-short.ts';
export { groupSteps, type StepGroup, type StepSize } from './step-groups.ts';
export { type StillNeeded, stillNeeded } from './still-needed.ts';
export { untie } from './untie.ts';
