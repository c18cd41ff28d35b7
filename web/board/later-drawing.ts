/** What a board draws later than its first picture: what is lit, and large boards while they zoom. Fetched once the board is seen. */
import { drawLit } from './draw-lit.ts';
import { beginZoom } from './zoom-picture.ts';

export const later = { drawLit, beginZoom };
