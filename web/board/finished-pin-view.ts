/** Where marks beside the finished band stand. */
import type { BandSide, FinishedLayout } from './draw-finished.ts';
import type { FinishedModel } from './finished-model.ts';
import { MARK, type PinView } from './pin-view.ts';

/** Marks on the finished band, at the first repeat: on the knot, beside the row, at the ring. */
export function finishedPinView(model: FinishedModel, layout: FinishedLayout, side: BandSide): PinView {
  const across = (place: number): number =>
    layout.x + (side === 'back' ? model.strings - 1 - place : place) * layout.unit;
  return {
    width: layout.width,
    height: layout.height,
    pointOf: (at) => {
      if (at.kind === 'string') return { x: across(at.string), y: layout.y - layout.unit * 2 };
      if (at.row >= model.rows) return null;
      const y = layout.y + (at.row + 1) * layout.row;
      if (at.kind === 'row') return { x: Math.max(MARK, layout.x - layout.unit - MARK), y };
      const place = 2 * at.k + ((model.start + at.row) & 1);
      return { x: (across(place) + across(place + 1)) / 2 + layout.unit * 0.5, y: y - layout.row * 0.5 };
    },
  };
}
