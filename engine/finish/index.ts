export { finishRows } from './finish-rows.ts';
