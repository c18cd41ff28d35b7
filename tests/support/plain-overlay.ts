import type { Overlay } from '../../web/board/draw-overlay.ts';
import { NO_MIRROR } from '../../web/board/mirror.ts';

/** Nothing lies over the board. */
export const PLAIN_OVERLAY: Overlay = {
  hover: null,
  ink: null,
  isFilling: false,
  mirror: NO_MIRROR,
  cursor: null,
  peg: null,
  hasFocus: false,
  selection: null,
  shift: null,
  preview: [],
  lit: null,
  isPaths: false,
};
