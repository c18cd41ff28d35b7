export { mend } from './mend.ts';
export { solvePicture } from './solve-picture.ts';
