import type { Overlay } from '../../web/board/draw-overlay.ts';

/** Nothing lies over the board. */
export const PLAIN_OVERLAY: Overlay = {
  hover: null,
  mirrored: [],
  cursor: null,
  peg: null,
  hasFocus: false,
  selection: null,
  shift: null,
  preview: [],
  lit: null,
  axisX: null,
  axisRow: null,
  isPaths: false,
};
