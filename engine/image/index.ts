/** Images brought to the knots of a band. */
export { imageWish } from './image-wish.ts';
export { frameFor } from './pixels.ts';
