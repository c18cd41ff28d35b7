/** Images brought to the knots of a band. */
export { imageWish } from './image-wish.ts';
export { type Frame, frameFor, type Pixels } from './pixels.ts';
