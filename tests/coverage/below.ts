/** Files of the product below the bar of `npm run coverage`, and why each is. One that reaches it is told, and goes from the list. */
import type { Exception } from './branches.ts';

export const BELOW: readonly Exception[] = [];
