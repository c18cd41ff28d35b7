export { finishRows } from './finish-rows.ts';
export { finishedStops } from './finished-stops.ts';
export {
  countRows,
  type PiecePart,
  type PieceRows,
  stoppedAt,
  type WorkedRows,
  workedRows,
} from './worked-rows.ts';
