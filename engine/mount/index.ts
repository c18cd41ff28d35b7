export type { Crossing, Fold, MountPlan } from './mount-plan.ts';
export { type MountOptions, planMount } from './plan-mount.ts';
