/** Photos of finished bands, read knot by knot. */
export { readPhoto } from './read-photo.ts';
