export { solvePicture } from './solve-picture.ts';
