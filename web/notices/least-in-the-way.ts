/** Where a notice lies so that it covers nothing that is being worked on. Plain rectangles, in pixels of the window. Rule W985. */

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** What somebody is at: the region, such as the board, and the place in it. */
export interface AtWork {
  readonly region: Box | null;
  readonly place: { readonly x: number; readonly y: number } | null;
}

export const CORNERS = ['end', 'start', 'top'] as const;
/** Below at the end or start of a line, or above. */
export type Corner = (typeof CORNERS)[number];

/** So near to where somebody works nothing is laid. */
const NEAR = 72;

/**
 * The corner that lies least over the region of work, and not near the place in it where there is a choice.
 * @param now where it lies; it stays there as long as it is not near the place of work: nothing that moves can be pressed
 */
export function leastInTheWay(
  boxes: Readonly<Record<Corner, Box>>,
  { region, place }: AtWork,
  now: Corner | null = null,
): Corner {
  const isNear = (corner: Corner): boolean => place !== null && distance(boxes[corner], place) < NEAR;
  if (now !== null && !isNear(now)) return now;
  const over = (corner: Corner): number => (region === null ? 0 : overlap(boxes[corner], region));
  return [...CORNERS].sort((a, b) => Number(isNear(a)) - Number(isNear(b)) || over(a) - over(b))[0]!;
}

function distance({ x, y, width, height }: Box, at: { readonly x: number; readonly y: number }): number {
  return Math.hypot(Math.max(x - at.x, 0, at.x - x - width), Math.max(y - at.y, 0, at.y - y - height));
}

function overlap(a: Box, b: Box): number {
  const width = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
  const height = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
  return Math.max(0, width) * Math.max(0, height);
}
