/** How many skeins the pieces of one thread need. */

export interface SkeinCount {
  /** Sum of the pieces, in mm. */
  readonly totalMm: number;
  /** To be bought. */
  readonly skeins: number;
  /** No arrangement needs fewer: the pieces' sum over the skein, and one for each piece longer than half of it. */
  readonly leastSkeins: number;
  /** What of the pieces is cut from thread that is at home, in mm. */
  readonly fromHomeMm: number;
  /** Left over, bought and at home, when all pieces are cut, in mm. */
  readonly wasteMm: number;
  /** Pieces longer than a whole skein: they need to be joined, or bought on a larger spool. */
  readonly tooLong: number;
}

/** Equal pieces. */
export interface EqualPieces {
  readonly lengthMm: number;
  readonly count: number;
}

/** Skeins with the same room left, side by side in the order in which they were begun. */
interface Rooms {
  readonly roomMm: number;
  readonly count: number;
  readonly isHome: boolean;
}

/**
 * Skeins for pieces that must each come whole from one skein: first fit, longest piece first, which never takes more than 11/9 of
 * the fewest plus 6/9. What is at home is a rest of less than a skein and whole skeins, and is cut before any is bought. A piece longer
 * than a skein is counted as whole skeins of its own.
 * @param piecesMm lengths, above 0
 * @param skeinMm  length of a skein, above 0
 * @param haveMm   length that is at home, 0 or more
 * O(pieces + different lengths²). Rules L10 and L75. Source: G. Dósa, "The tight bound of first fit decreasing bin-packing algorithm is
 * FFD(I) <= 11/9 OPT(I) + 6/9", LNCS 4614 (2007) 1-11 (cited from memory).
 */
export function countSkeins(piecesMm: readonly number[], skeinMm: number, haveMm = 0): SkeinCount {
  const counts = new Map<number, number>();
  for (const mm of piecesMm) counts.set(mm, (counts.get(mm) ?? 0) + 1);
  return packSkeins(
    [...counts].map(([lengthMm, count]) => ({ lengthMm, count })),
    skeinMm,
    haveMm,
  );
}

/** {@link countSkeins} of pieces that are equal in large numbers. O(different lengths²), however many there are of each. */
export function packSkeins(pieces: readonly EqualPieces[], skeinMm: number, haveMm = 0): SkeinCount {
  const sum = (list: readonly EqualPieces[], of: (one: EqualPieces) => number): number =>
    list.reduce((total, one) => total + of(one) * one.count, 0);
  const totalMm = sum(pieces, ({ lengthMm }) => lengthMm);
  const long = pieces.filter(({ lengthMm }) => lengthMm > skeinMm);
  const rest = pieces.filter(({ lengthMm }) => lengthMm <= skeinMm);
  const atHome = roomsAtHome(skeinMm, haveMm);
  let rooms: readonly Rooms[] = atHome;
  for (const piece of [...rest].sort((one, two) => two.lengthMm - one.lengthMm))
    rooms = takeFirst(rooms, piece, skeinMm);
  const bought = rooms.filter(({ isHome }) => !isHome).reduce((total, { count }) => total + count, 0);
  const left = (list: readonly Rooms[]): number =>
    list.reduce((total, { roomMm, count, isHome }) => total + (isHome ? roomMm * count : 0), 0);
  const own = sum(long, ({ lengthMm }) => Math.ceil(lengthMm / skeinMm));
  const skeins = bought + own;
  const bySum = Math.ceil(Math.max(0, sum(rest, ({ lengthMm }) => lengthMm) - haveMm) / skeinMm);
  const isLong = (mm: number): boolean => mm > skeinMm / 2;
  const longAtHome = atHome.reduce((n, { roomMm, count }) => n + (isLong(roomMm) ? count : 0), 0);
  const byLong = sum(rest, ({ lengthMm }) => Number(isLong(lengthMm))) - longAtHome;
  return {
    totalMm,
    skeins,
    leastSkeins: own + Math.max(bySum, byLong, 0),
    fromHomeMm: left(atHome) - left(rooms),
    wasteMm: skeins * skeinMm + haveMm - totalMm,
    tooLong: sum(long, () => 1),
  };
}

/** The rest first, so that whole skeins stay whole where it serves. */
function roomsAtHome(skeinMm: number, haveMm: number): readonly Rooms[] {
  const whole = Math.floor(haveMm / skeinMm);
  const restMm = haveMm - whole * skeinMm;
  return [
    { roomMm: restMm, count: 1, isHome: true },
    { roomMm: skeinMm, count: whole, isHome: true },
  ].filter(({ roomMm, count }) => roomMm > 0 && count > 0);
}

/** Each piece goes into the first skein that has room for it, else into a new one. */
function takeFirst(rooms: readonly Rooms[], { lengthMm, count }: EqualPieces, skeinMm: number): Rooms[] {
  const next: Rooms[] = [];
  let left = count;
  const fill = ({ roomMm, count: skeins, isHome }: Rooms): void => {
    const each = left === 0 ? 0 : Math.floor(roomMm / lengthMm);
    const full = each === 0 ? 0 : Math.min(skeins, Math.floor(left / each));
    const some = each === 0 || full === skeins ? 0 : left - full * each;
    left -= full * each + some;
    const put = (n: number, pieces: number): void => {
      if (n > 0) next.push({ roomMm: roomMm - pieces * lengthMm, count: n, isHome });
    };
    put(full, each);
    if (some > 0) put(1, some);
    put(skeins - full - (some > 0 ? 1 : 0), 0);
  };
  for (const room of rooms) fill(room);
  if (left > 0)
    fill({ roomMm: skeinMm, count: Math.ceil(left / Math.floor(skeinMm / lengthMm)), isHome: false });
  return next;
}
