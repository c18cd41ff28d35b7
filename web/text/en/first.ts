/** The English texts that the page needs from the start, as one. */
import { enBoard } from './board.ts';
import { enLinks } from './links.ts';
import { en } from './page.ts';
import { enSight } from './sight.ts';

export const enFirst = { ...en, ...enBoard, ...enLinks, ...enSight };
