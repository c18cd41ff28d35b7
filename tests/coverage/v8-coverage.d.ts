/** The part of the package that the coverage run uses; it has no types of its own. */
declare module '@bcoe/v8-coverage' {
  import type { Profiler } from 'node:inspector';

  export interface ProcessCov {
    readonly result: readonly Profiler.ScriptCoverage[];
  }
  export function mergeProcessCovs(covs: readonly ProcessCov[]): ProcessCov;
}
