/** The German texts that the page needs from the start, as one. */

import { deBoard } from './board.ts';
import { deLinks } from './links.ts';
import { de } from './page.ts';
import { deSight } from './sight.ts';

export const deFirst = { ...de, ...deBoard, ...deLinks, ...deSight };
