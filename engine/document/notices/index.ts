/** What of a design is somebody's own work, and what others do to it. */
export { LOST_KINDS, type Lost, OwnWork } from './own-work.ts';
export { isBack, type OthersEdit, presentValue, watchEdits } from './watch-edits.ts';
export { type LostPlace, placeOfLost } from './place-of.ts';
export { putBack } from './put-back.ts';
