/** Wishes: what should show in a band, before there are knots that show it. */
export { fitWish, OPEN, openWish, shiftWish, type Wish, wantedCells, wishFrom } from './wish.ts';
export { mendToWish, type WishMend } from './mend-wish.ts';
export { type Trial, tryWish } from './try-wish.ts';
export { formatWish, readWish } from './wish-text.ts';
