/**
 * The fields of `piece` and `gauge` in a board file, once: the parser reads by this table and the JSON Schema is made from it.
 * Limits only keep out what cannot be meant (a bar of a kilometre); they are no advice.
 */
import {
  type Demand,
  demandOfText,
  type Gauge,
  type PartSupply,
  type Piece,
  type ThreadSupply,
} from '../pattern/index.ts';
import { LEAST_MM, LEAST_PACE, MAX_NAME_CHARACTERS, MAX_NOTES_CHARACTERS, MAX_PIECES } from './limits.ts';

/** What a field of `piece` or `gauge` may be; bounds belong to the range unless `isMinOpen`. */
export type FieldRule =
  | { readonly type: 'number'; readonly min: number; readonly max: number; readonly isMinOpen: boolean }
  | { readonly type: 'whole'; readonly min: number; readonly max: number }
  | { readonly type: 'choice'; readonly of: readonly string[] }
  /** Text of so many UTF-16 units. */
  | { readonly type: 'text'; readonly max: number };

const above = (min: number, max: number): FieldRule => ({ type: 'number', min, max, isMinOpen: true });
const length = (max: number): FieldRule => above(LEAST_MM, max);
const notNegative = (max: number): FieldRule => ({ type: 'number', min: 0, max, isMinOpen: false });

const money = notNegative(1_000_000);
/** A share of something that is not all of it. */
const share: FieldRule = { type: 'number', min: 0, max: 0.95, isMinOpen: false };
const minutes = notNegative(10_000);

/** How many pieces are made in one colourway. */
export const PIECES: FieldRule = { type: 'whole', min: 1, max: MAX_PIECES };

/** The fields of `piece`, by name. */
export const PIECE_FIELDS: Readonly<Record<keyof Piece, FieldRule>> = {
  repeats: { type: 'whole', min: 1, max: 10_000 },
  lengthMm: length(100_000),
  lengthOf: { type: 'choice', of: ['band', 'whole'] },
  stopAt: { type: 'choice', of: ['row', 'finished'] },
  leadInRows: { type: 'whole', min: 0, max: 20_000 },
  singles: { type: 'choice', of: ['forced', 'free'] },
  begin: { type: 'choice', of: ['ring', 'loose', 'loop', 'stick'] },
  end: { type: 'choice', of: ['straight', 'triangle', 'double triangle'] },
  endKnot: { type: 'choice', of: ['overhand', 'tassel', 'braid', 'none'] },
  headKnot: { type: 'choice', of: ['overhand', 'braid', 'none'] },
  headMm: notNegative(10_000),
  tailMm: notNegative(10_000),
  spareMm: notNegative(10_000),
  shortOneIn: { type: 'whole', min: 3, max: 1_000 },
  ring: { type: 'choice', of: ['round', 'd-ring'] },
  barMm: length(10_000),
  ringMm: length(10_000),
  loopMm: length(10_000),
  skeinMm: length(10_000_000),
  skeinPrice: notNegative(1_000_000),
  partsPrice: notNegative(1_000_000),
  hourlyRate: notNegative(1_000_000),
  knotsPerMinute: above(LEAST_PACE, 1_000),
  pieces: PIECES,
  cutMinutes: minutes,
  mountMinutes: minutes,
  finishMinutes: minutes,
  wasteShare: { type: 'number', min: 0, max: 1, isMinOpen: false },
  postPrice: money,
  fixedFee: money,
  soldAs: { type: 'choice', of: ['each', 'together'] },
  marginShare: share,
  feeShare: share,
  taxShare: { type: 'number', min: 0, max: 1, isMinOpen: false },
  notes: { type: 'text', max: MAX_NOTES_CHARACTERS },
};

const freedom: FieldRule = { type: 'whole', min: 0, max: 1_000_000 };
const correlation: FieldRule = { type: 'number', min: -1, max: 1, isMinOpen: false };

/** The fields of `gauge`, by name. */
export const GAUGE_FIELDS: Readonly<Record<keyof Gauge, FieldRule>> = {
  thread: { type: 'choice', of: ['floss', 'cord', 'own'] },
  threadMm: length(100),
  cordMm: length(100),
  rowMm: length(1_000),
  knottingMm: length(10_000),
  carrierMm: length(10_000),
  cordErrorMm: notNegative(10_000),
  rowErrorMm: notNegative(10_000),
  knottingErrorMm: notNegative(10_000),
  carrierErrorMm: notNegative(10_000),
  cordFreedom: freedom,
  rowFreedom: freedom,
  takeUpFreedom: freedom,
  knottingCarrierCorrelation: correlation,
  rowKnottingCorrelation: correlation,
  rowCarrierCorrelation: correlation,
  knotScatterMm: notNegative(10_000),
};

/** What can be said of a thread, by name. */
export const THREAD_FIELDS: Readonly<Record<Exclude<keyof ThreadSupply, 'hex' | 'name'>, FieldRule>> = {
  number: { type: 'text', max: MAX_NAME_CHARACTERS },
  price: money,
  skeinMm: { type: 'number', min: 1, max: 10_000_000, isMinOpen: false },
  haveMm: notNegative(1_000_000_000),
  sameAs: { type: 'text', max: '#rrggbb.'.length + MAX_NAME_CHARACTERS },
};

/** What can be said of a line of parts, by name. */
export const PART_FIELDS: Readonly<Record<Exclude<keyof PartSupply, 'id'>, FieldRule>> = {
  kind: { type: 'choice', of: ['ring', 'clasp', 'bead', 'other'] },
  name: { type: 'text', max: MAX_NAME_CHARACTERS },
  count: { type: 'whole', min: 0, max: 1_000 },
  price: money,
  have: { type: 'whole', min: 0, max: 1_000_000 },
};

/** What a value would have to be under a rule; null when it is. Rules P30, P31. */
export function demandOf(rule: FieldRule, value: unknown): Demand | null {
  switch (rule.type) {
    case 'choice':
      return rule.of.includes(value as string) ? null : { be: 'one-of', choices: rule.of.join(', ') };
    case 'text':
      return typeof value === 'string' && value.length <= rule.max
        ? demandOfText(value)
        : { be: 'characters', least: 0, most: rule.max };
    case 'whole':
      return typeof value === 'number' && Number.isInteger(value) && value >= rule.min && value <= rule.max
        ? null
        : { be: 'whole', least: rule.min, most: rule.max };
    case 'number': {
      const isInside =
        typeof value === 'number' &&
        Number.isFinite(value) &&
        value <= rule.max &&
        (rule.isMinOpen ? value > rule.min : value >= rule.min);
      return isInside ? null : { be: rule.isMinOpen ? 'above' : 'between', least: rule.min, most: rule.max };
    }
  }
}
