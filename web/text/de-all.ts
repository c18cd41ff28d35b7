/** The German texts that the page needs from the start, as one. */
import { de } from './de.ts';
import { deBoard } from './de-board.ts';
import { deLinks } from './de-links.ts';

export const german = { ...de, ...deBoard, ...deLinks };
