/** Steps as large as a maker wants them: one knot, one run of a string, half a row, a row. */
import type { WorkStep } from '../work/index.ts';

/** How much one touch of the hand marks as tied. */
export type StepSize = 'knot' | 'run' | 'half-row' | 'row';

/** Side of the band that a knot lies on; a knot on the middle line is `middle`. */
type Side = 'left' | 'middle' | 'right';

/** Steps that are taken as one. */
export interface StepGroup {
  /** Index of the first step, and of the one behind the last. */
  readonly from: number;
  readonly to: number;
  /** Side that all its knots lie on; null when they lie on several. */
  readonly side: Side | null;
  /** Kind that all its knots are of; null when they are of several. */
  readonly kind: WorkStep['kind'] | null;
  /** String that ties all of them; null when several do. */
  readonly knotting: number | null;
  /** Where the knots go, from the first to the last; null for one knot, and when they go to and fro. */
  readonly heading: 'left' | 'right' | null;
  /** Index of the group of the same row whose mirror image this one is, knot for knot; null when there is none before it. */
  readonly mirrors: number | null;
}

const MIRRORED = { f: 'b', b: 'f', fb: 'bf', bf: 'fb' } as const;

/**
 * The steps in groups, each a stretch of the order as it is. A run is of one string and one kind of knot; half a row is what an order of
 * work ties in a row on one side, or in its middle, without leaving it.
 * @param strings number of strings
 * O(steps). Rule H20.
 */
export function groupSteps(
  steps: readonly WorkStep[],
  size: StepSize,
  strings: number,
): readonly StepGroup[] {
  const groups: StepGroup[] = [];
  for (let from = 0; from < steps.length; ) {
    let to = from + 1;
    while (to < steps.length && belongs(steps[to - 1]!, steps[to]!, size, strings)) to++;
    groups.push(describe(steps, from, to, groups, strings));
    from = to;
  }
  return groups;
}

function belongs(before: WorkStep, step: WorkStep, size: StepSize, strings: number): boolean {
  switch (size) {
    case 'knot':
      return false;
    case 'run':
      return before.knotting === step.knotting && before.kind === step.kind;
    case 'half-row':
      return before.row === step.row && sideOf(before, strings) === sideOf(step, strings);
    case 'row':
      return before.row === step.row;
    default:
      throw new TypeError(`unknown size ${JSON.stringify(size satisfies never)}`);
  }
}

/** Side of the band on which a knot lies. */
function sideOf({ place }: Pick<WorkStep, 'place'>, strings: number): Side {
  const fromMiddle = 2 * place + 2 - strings;
  return fromMiddle === 0 ? 'middle' : fromMiddle < 0 ? 'left' : 'right';
}

function describe(
  steps: readonly WorkStep[],
  from: number,
  to: number,
  groups: readonly StepGroup[],
  strings: number,
): StepGroup {
  const own = steps.slice(from, to);
  const first = own[0]!;
  const common = <T>(read: (step: WorkStep) => T): T | null =>
    own.every((step) => read(step) === read(first)) ? read(first) : null;
  const ways = new Set(own.slice(1).map(({ place }, at) => Math.sign(place - own[at]!.place)));
  const way = ways.size === 1 ? [...ways][0] : 0;
  return {
    from,
    to,
    side: common((step) => sideOf(step, strings)),
    kind: common(({ kind }) => kind),
    knotting: common(({ knotting }) => knotting),
    heading: way === 1 ? 'right' : way === -1 ? 'left' : null,
    mirrors: mirroredBy(own, steps, groups, strings),
  };
}

/** The last group before that ties the mirrored knots of the same row in the same turn. */
function mirroredBy(
  own: readonly WorkStep[],
  steps: readonly WorkStep[],
  groups: readonly StepGroup[],
  strings: number,
): number | null {
  const { row } = own[0]!;
  for (let at = groups.length - 1; at >= 0 && steps[groups[at]!.from]!.row === row; at--) {
    const other = steps.slice(groups[at]!.from, groups[at]!.to);
    const isMirror =
      other.length === own.length &&
      own.every((step, i) => {
        const { row: otherRow, place, kind } = other[i]!;
        return otherRow === step.row && place === strings - 2 - step.place && kind === MIRRORED[step.kind];
      });
    if (isMirror) return at;
  }
  return null;
}
