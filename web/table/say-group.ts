/** What to do in a step, in one plain sentence. Needs the texts of the group `table`. */
import { type Board, groupSteps, type StepGroup, type WorkStep } from '../../engine/index.ts';
import { sayList, t } from '../text/index.ts';
import { stepWords } from '../words/index.ts';
import { placeSeen, type Sight, sideSeen, sightOf } from './views.ts';

/** More stretches of one kind than this in a row are no sentence any more. */
const MOST_STRETCHES = 4;
/** The two halves and the middle. */
const MOST_PARTS = 3;

/**
 * The sentence for what is left of a group.
 * @param left  the knots of the group that are to be tied, one or more, in their order
 * @param sight from where strings are counted, and which side is which
 * Rules N20 and N72.
 */
export function sayGroup(
  board: Board,
  group: StepGroup,
  left: readonly WorkStep[],
  sight: Sight = sightOf('same'),
): string {
  const [first] = left;
  if (first === undefined) throw new RangeError('a step without knots says nothing');
  if (left.length === 1) return sayKnot(board, first, sight);
  const isRun = left.every(({ knotting, kind }) => knotting === first.knotting && kind === first.kind);
  if (isRun)
    return t('table.say.run', {
      string: nameString(board, first, sight),
      knots: t(`table.knots.${first.kind}`, { count: left.length }),
      way: isExchangeKind(first)
        ? t(`table.way.${sideSeen(first.kind === 'f' ? 'right' : 'left', sight)}`)
        : '',
    });
  const where = sayWhere(first);
  const isWhole = left.length === group.to - group.from;
  if (isWhole && group.mirrors !== null && group.side !== null)
    return t('table.say.mirrored', { where, side: saySide(group.side, sight), knots: sayKnots(left) });
  if (group.side !== null)
    return t('table.say.half', {
      where,
      side: saySide(group.side, sight),
      knots: sayKnots(left),
      way: sayWay(group, sight),
    });
  const parts = groupSteps(left, 'half-row', board.pattern.colours.length);
  if (group.heading === null && parts.length <= MOST_PARTS)
    return t('table.say.parts', { where, parts: parts.map((part) => sayPart(part, left, sight)).join('; ') });
  return t('table.say.row', { where, knots: sayKnots(left), way: sayWay(group, sight) });
}

/** Half of a row, or its middle, as a part of a sentence. */
function sayPart(part: StepGroup, steps: readonly WorkStep[], sight: Sight): string {
  const side = saySide(part.side ?? 'middle', sight);
  if (part.mirrors !== null) return t('table.say.partMirrored', { side });
  return t('table.say.part', {
    side,
    knots: sayKnots(steps.slice(part.from, part.to)),
    way: sayWay(part, sight),
  });
}

/** By where its strings hang now, and their colours. */
function sayKnot(board: Board, step: WorkStep, sight: Sight): string {
  const { ordinal, knots } = stepWords();
  const strings = board.pattern.colours.length;
  const at = tiesFrom(step);
  const { number, from } = placeSeen(at, strings, sight);
  return t('table.say.knot', {
    where: sayWhere(step),
    knot: knots[step.kind],
    first: ordinal(number),
    from: t(`table.from.${from}`),
    colour: nameColour(board, step.knotting),
    second: ordinal(placeSeen(2 * step.place + 1 - at, strings, sight).number),
    other: nameColour(board, step.carrier),
  });
}

/** The knots one after the other, those of one kind together. */
function sayKnots(steps: readonly WorkStep[]): string {
  const stretches: { readonly kind: WorkStep['kind']; count: number }[] = [];
  for (const { kind } of steps) {
    const last = stretches.at(-1);
    if (last?.kind === kind) last.count++;
    else stretches.push({ kind, count: 1 });
  }
  if (stretches.length > MOST_STRETCHES) return t('table.knots.many', { count: steps.length });
  return sayList(stretches.map(({ kind, count }) => t(`table.knots.${kind}`, { count })));
}

function sayWay({ heading, side }: StepGroup, sight: Sight): string {
  if (heading === null) return '';
  if (side === null || side === 'middle')
    return t(sideSeen(heading, sight) === 'right' ? 'table.way.fromLeft' : 'table.way.fromRight');
  return t(heading === side ? 'table.way.out' : 'table.way.in');
}

function saySide(side: NonNullable<StepGroup['side']>, sight: Sight): string {
  return t(`table.side.${side === 'middle' ? side : sideSeen(side, sight)}`);
}

/** Where the row is that a knot lies in. */
export function sayWhere({ part, repeat, partRow }: WorkStep): string {
  const row = partRow + 1;
  switch (part) {
    case 'lead-in':
      return t('table.where.leadIn', { row });
    case 'end':
      return t('table.where.end', { row });
    case 'band':
      return t(repeat > 1 ? 'table.where.repeat' : 'table.where.band', { row, repeat });
    default:
      throw new TypeError(`unknown part ${JSON.stringify(part satisfies never)}`);
  }
}

/** Place, from 0, at which the string that ties hangs before its knot. */
export function tiesFrom({ kind, place }: Pick<WorkStep, 'kind' | 'place'>): number {
  return kind === 'f' || kind === 'fb' ? place : place + 1;
}

function isExchangeKind({ kind }: WorkStep): boolean {
  return kind === 'f' || kind === 'b';
}

function nameString(board: Board, step: WorkStep, sight: Sight): string {
  const { number, from } = placeSeen(tiesFrom(step), board.pattern.colours.length, sight);
  return t('table.stringSeen', {
    colour: nameColour(board, step.knotting),
    at: stepWords().ordinal(number),
    from: t(`table.from.${from}`),
  });
}

/** What the colour of a string is called, or its value where it has no name. */
function nameColour({ pattern, palette }: Board, string: number): string {
  const found = palette.find(({ id }) => id === pattern.colours[string]);
  return found === undefined ? '' : found.name.trim() || found.hex;
}
