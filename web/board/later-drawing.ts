/**
 * What a board draws later than its first picture: what is lit and what would be tied, where others are, and large boards while they zoom. Fetched
 * once the board is seen.
 */
import { drawMarks } from './draw-marks.ts';
import { drawOthers } from './draw-others.ts';
import { beginZoom } from './zoom-picture.ts';

export const later = { drawMarks, drawOthers, beginZoom };
