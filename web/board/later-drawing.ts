/** What a board draws later than its first picture: what is lit and what would be tied, and large boards while they zoom. Fetched once the board is seen. */
import { drawMarks } from './draw-marks.ts';
import { beginZoom } from './zoom-picture.ts';

export const later = { drawMarks, beginZoom };
