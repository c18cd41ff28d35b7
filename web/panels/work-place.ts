/** Where the maker is in the work order; outlives the panel while the board is open. */
import type { StepView, WorkMethod } from '../../engine/index.ts';

export class WorkPlace {
  /** Step from 0. */
  step = 0;
  method: WorkMethod = 'rows';
  covers: 'pattern' | 'piece' = 'pattern';
  view: StepView = 'plain';
  isLong = false;
}
