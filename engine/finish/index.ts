export { type FinishRows, finishRows, withFinish } from './finish-rows.ts';
