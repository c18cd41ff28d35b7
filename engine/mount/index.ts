export { applyStart, findStarts, type Start, type StartOptions, startReach } from './find-starts.ts';
export { applyLeadIn, type LeadIn, type LeadInOptions, leadIn } from './lead-in.ts';
export type { Crossing, Fold, MountPlan } from './mount-plan.ts';
export { type MountingStep, mountingSteps } from './mounting-steps.ts';
export { isNeatOrder, type MountOptions, planAtOnce } from './plan-at-once.ts';
export { planBoard } from './plan-board.ts';
export { planMount } from './plan-mount.ts';
export { type Recolouring, type RecolourOptions, recolour } from './recolour.ts';
export { applyWayOut, type WayOut, type WaysOut, type WaysOutOptions, waysOut } from './ways-out.ts';
