export { applyStart, findStarts, type Start, type StartOptions, startReach } from './find-starts.ts';
export type { Crossing, Fold, MountPlan } from './mount-plan.ts';
export { type MountOptions, planMount } from './plan-mount.ts';
export type { Cancellable, Cancelled } from './progress.ts';
