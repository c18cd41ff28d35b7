/**
 * A figure drawn on lozenges.
 *
 * Drawing space: x to the right, y down, both in half lozenges. A lozenge has its middle at (x, y) where x + y is even and reaches to
 * |dx| + |dy| <= 1, so it shares edges with (x ± 1, y ± 1) and tips with (x ± 2, y) and (x, y ± 2). It is the board's own grid (place and
 * row of a knot) but for where it begins.
 */

/** The middle of a lozenge. */
interface Lozenge {
  readonly x: number;
  readonly y: number;
}

/** Lozenges that belong to a figure; all else is ground. No lozenge twice, in reading order. */
export interface Drawing {
  readonly lozenges: readonly Lozenge[];
  /** The least and the greatest x and y that the figure takes; where it is narrower its room is not. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** The drawing of these lozenges, each counted once. @throws RangeError when there are none, or x + y of one is odd */
function drawingOf(lozenges: readonly Lozenge[]): Drawing {
  const byKey = new Map<string, Lozenge>();
  for (const { x, y } of lozenges) {
    if ((x + y) % 2 !== 0) throw new RangeError(`there is no lozenge at ${x},${y}`);
    byKey.set(`${x},${y}`, { x, y });
  }
  const all = [...byKey.values()].sort((a, b) => a.y - b.y || a.x - b.x);
  if (all.length === 0) throw new RangeError('a drawing has one lozenge at least');
  const xs = all.map(({ x }) => x);
  return {
    lozenges: all,
    left: Math.min(...xs),
    right: Math.max(...xs),
    top: all[0]!.y,
    bottom: all.at(-1)!.y,
  };
}

/**
 * Strokes as text: points `x,y` joined by straight lines, strokes parted by `;`. A line runs level, upright or along the edges of
 * lozenges, so that each of its lozenges touches the next; it takes those whose middles it runs through.
 * @throws RangeError when a point is no middle of a lozenge or a line runs otherwise
 */
export function drawStrokes(strokes: string): Drawing {
  return drawingOf(
    strokes.split(';').flatMap((stroke) => {
      const points = stroke.trim().split(/\s+/).map(readPoint);
      return points.length === 1
        ? points
        : points.slice(1).flatMap((to, i) => lozengesBetween(points[i]!, to));
    }),
  );
}

function readPoint(text: string): Lozenge {
  const [x, y] = text.split(',').map(Number);
  if (!Number.isInteger(x) || !Number.isInteger(y)) throw new RangeError(`${text} is no point`);
  return { x: x as number, y: y as number };
}

function lozengesBetween(from: Lozenge, to: Lozenge): Lozenge[] {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  if (dx !== 0 && dy !== 0 && Math.abs(dx) !== Math.abs(dy))
    throw new RangeError(`${from.x},${from.y} to ${to.x},${to.y} does not run along lozenges`);
  if ((dx + dy) % 2 !== 0)
    throw new RangeError(`${from.x},${from.y} to ${to.x},${to.y} ends between lozenges`);
  const step = dx === 0 || dy === 0 ? 2 : 1;
  const count = Math.max(Math.abs(dx), Math.abs(dy)) / step;
  return Array.from({ length: count + 1 }, (_, i) => ({
    x: from.x + Math.sign(dx) * step * i,
    y: from.y + Math.sign(dy) * step * i,
  }));
}

/**
 * A figure as text: each line is a row, each character half a lozenge further to the right, `o` a lozenge; the first line has them at even
 * places, the next at odd ones, and so on.
 * @throws RangeError when an `o` stands where no lozenge is
 */
export function drawRows(rows: readonly string[]): Drawing {
  return drawingOf(rows.flatMap((row, y) => [...row].flatMap((mark, x) => (mark === 'o' ? [{ x, y }] : []))));
}

/** The same figure with each lozenge as a lozenge of `times` by `times`: its outline is the same, larger. @param times 1 or more */
export function enlarge(drawing: Drawing, times: number): Drawing {
  return drawingOf(
    drawing.lozenges.flatMap(({ x, y }) => {
      // Along the edges a lozenge has whole numbers.
      const [i, j] = [(y + x) / 2, (y - x) / 2];
      return Array.from({ length: times * times }, (_, part) => {
        const [a, b] = [i * times + (part % times), j * times + Math.floor(part / times)];
        return { x: a - b, y: a + b };
      });
    }),
  );
}

/** The figure turned a quarter to the right: what was at the top lies at the right. */
export function turnRight(drawing: Drawing): Drawing {
  return drawingOf(drawing.lozenges.map(({ x, y }) => ({ x: -y, y: x })));
}
