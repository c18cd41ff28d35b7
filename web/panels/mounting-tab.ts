/** The elements of the first tab, so that they come as one file. */
export { LbCautions } from './lb-cautions.ts';
export { LbMountSteps } from './lb-mount-steps.ts';
export { LbMountingPanel } from './lb-mounting-panel.ts';
export { LbWaysOut } from './lb-ways-out.ts';
