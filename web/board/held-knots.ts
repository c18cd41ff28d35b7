/**
 * What stays where it is on the screen when rows or strings come or go beside it: what is under the pointer, else what the keyboard is on or
 * was tapped last, else a knot in the middle of the sight.
 */
import type { Design, KnotAddress, StringAddress } from '../../engine/document/index.ts';
import { type BoardPoint, cellToPoint, knotsIn, type Stagger } from '../../engine/index.ts';
import type { Spot } from './spot.ts';
import { pixelToPoint, pointToPixel, type Size, type Viewport } from './viewport.ts';

type Held = { readonly at: BoardPoint } & (
  | { readonly knot: KnotAddress }
  | { readonly string: StringAddress }
);

const STILL: BoardPoint = { x: 0, y: 0 };

/** Where a spot is in board space: a peg above the first row. */
export function pointOfSpot(stagger: Stagger, spot: Spot): BoardPoint {
  return spot.on === 'peg' ? { x: spot.place, y: 0 } : cellToPoint(stagger, spot);
}

/** The knot nearest to the middle of what is seen. */
export function middleSpot(stagger: Stagger, view: Viewport, { width, height }: Size): Spot {
  const { x, y } = pixelToPoint(view, { px: width / 2, py: height / 2 });
  const row = Math.max(0, Math.min(stagger.rows - 1, Math.round(y) - 1));
  const k = Math.round((x - 0.5 - ((stagger.start + row) & 1)) / 2);
  return { on: 'knot', row, k: Math.max(0, Math.min(knotsIn(stagger, row) - 1, k)) };
}

/** What is held where a spot itself is deleted: what is left of it and above it, so that the rest closes up. */
export function besideSpot(spot: Spot): readonly Spot[] {
  if (spot.on === 'peg') return [spot];
  const { row, k } = spot;
  return [
    spot,
    { on: 'knot', row, k: k - 1 },
    row < 2 ? { on: 'peg', place: 2 * k } : { on: 'knot', row: row - 2, k },
  ];
}

/** Whether a spot is in sight. */
export function isSeen(stagger: Stagger, spot: Spot, view: Viewport, { width, height }: Size): boolean {
  const { px, py } = pointToPixel(view, pointOfSpot(stagger, spot));
  return px >= 0 && py >= 0 && px <= width && py <= height;
}

/** What is held on a canvas, the first before the others. @param hover what is under the pointer; null = nothing */
export function spotsToHold(
  stagger: Stagger,
  { view, size }: { readonly view: Viewport; readonly size: Size },
  spot: Spot,
  hover: Spot | null,
): readonly Spot[] {
  const near = isSeen(stagger, spot, view, size) ? besideSpot(spot) : [];
  return [...(hover === null ? [] : [hover]), ...near, middleSpot(stagger, view, size)];
}

export class HeldKnots {
  #held: readonly Held[] = [];

  /** To be told whenever one of them is another. @param spots the first counts most */
  hold(
    design: Pick<Design, 'addressOf' | 'stringAddressOf'>,
    stagger: Stagger,
    spots: readonly Spot[],
  ): void {
    this.#held = spots.flatMap((spot): Held[] => {
      const at = pointOfSpot(stagger, spot);
      if (spot.on === 'peg') {
        const string = design.stringAddressOf(spot.place);
        return string === null ? [] : [{ at, string }];
      }
      const knot = design.addressOf(spot.row, spot.k);
      return knot === null ? [] : [{ at, knot }];
    });
  }

  /** How far the first of them that is still there has gone in board space. */
  wayOf(design: Pick<Design, 'placeOf' | 'stringOf'>, stagger: Stagger): BoardPoint {
    for (const held of this.#held) {
      if ('knot' in held) {
        const cell = design.placeOf(held.knot);
        if (cell === null) continue;
        const { x, y } = cellToPoint(stagger, cell);
        return { x: x - held.at.x, y: y - held.at.y };
      }
      const place = design.stringOf(held.string);
      if (place !== null) return { x: place - held.at.x, y: 0 };
    }
    return STILL;
  }
}
