/** Letters and motifs of our own drawing, and texts laid out on a band. */
export { hangWish } from './hang-wish.ts';
export { layLettering } from './lettering.ts';
