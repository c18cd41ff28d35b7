export { COPY_JOBS } from './copy-jobs.ts';
export { type CopyLine, CopyVisit } from './copy-visit.ts';
export { renew } from './generations.ts';
export { LateCopies } from './late-copies.ts';
export { LiveRenewals } from './live-renewals.ts';
