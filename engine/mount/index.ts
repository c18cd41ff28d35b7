export { applyStart, findStarts } from './find-starts.ts';
export { applyLeadIn, leadIn } from './lead-in.ts';
export { type Fold, type MountPlan, mountFrom } from './mount-plan.ts';
export { isNeatOrder, planAtOnce } from './plan-at-once.ts';
export { planBoard } from './plan-board.ts';
export { planMount } from './plan-mount.ts';
export { type Recolouring, recolour } from './recolour.ts';
export { cordsWithoutRing, NOTHING_MOUNTED } from './without-ring.ts';
export { applyWayOut, type WayOut, type WaysOut, waysOut } from './ways-out.ts';
