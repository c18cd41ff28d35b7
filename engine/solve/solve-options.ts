/** What a board that shows a picture must be like besides. */
import { type ColourId, codeOfToken, type KnotToken, MAX_ROWS } from '../pattern/index.ts';
import type { Watch } from './budget.ts';
import { asFields, asList, asWhole, Refusal } from './solve-error.ts';
import type { SolveTarget } from './target.ts';

/** A knot that stays; row and index as in the target. */
interface KeptKnot {
  readonly row: number;
  readonly k: number;
  readonly kind: KnotToken;
}

/** What {@link solvePicture} is told besides the target. */
export interface SolveOptions extends Watch {
  /**
   * Colours at the top. `'free'` (default): any order. `'mirrored'`: one that reads the same from both sides. `'nested'`: one that mounts
   * without crossings, with a single for each colour of odd count, as `planMount` counts them. A list: these palette ids, left to right.
   */
  readonly order?: 'free' | 'mirrored' | 'nested' | readonly ColourId[];
  /** Whether every colour has an even number of strings; default false. */
  readonly even?: boolean;
  /** At most so many singles, as `planMount` counts them: colours of odd count. Default: as many as it takes. */
  readonly singles?: number;
  /** Knots that must be as given. */
  readonly keep?: readonly KeptKnot[];
  /** Whether the colours hang after the last row as before the first, so that rows repeat without a seam; default false. */
  readonly seamless?: boolean;
  /** Up to so many rows above the target, in which any colour may show, worked once; default 0. The fewest that serve are taken. */
  readonly leadInRows?: number;
  /** What each cell counts that shows another colour: whole, 0 to 1,000, shaped as the rows. Default 1 each. */
  readonly weights?: readonly (readonly number[])[];
  /** Whether cells of -1 may stay untied; default false: they are tied. */
  readonly mayStayOpen?: boolean;
  /** Steps after which the best found is given, 1 or more: the same on every machine. Default {@link DEFAULT_STEPS}. */
  readonly steps?: number;
}

/** Steps of a search that is told no other number: up to about three seconds. */
export const DEFAULT_STEPS = 80_000_000;
const MOST_STEPS = 1e12;
const MOST_WEIGHT = 1000;

/** Options that were checked, with their defaults; kept knots by their codes. */
export interface ReadOptions {
  readonly order: 'free' | 'mirrored' | 'nested' | readonly number[];
  readonly mostOdd: number;
  readonly keep: readonly { readonly row: number; readonly k: number; readonly code: number }[];
  readonly seamless: boolean;
  readonly leadInRows: number;
  readonly weights: readonly (readonly number[])[] | null;
  readonly mayStayOpen: boolean;
  readonly steps: number;
}

/**
 * Checks options against the target they come with.
 * @throws Refusal naming the first that is wrong, as `options.…`
 */
export function readOptions(value: unknown, target: SolveTarget): ReadOptions {
  const fields = asFields(value, 'options');
  const flag = (name: string): boolean => {
    const found = fields[name] ?? false;
    if (typeof found !== 'boolean') throw new Refusal('wrong-type', `options.${name}`, { be: 'flag' }, found);
    return found;
  };
  const whole = (name: string, preset: number, least: number, most: number): number =>
    fields[name] === undefined ? preset : asWhole(fields[name], `options.${name}`, least, most);
  return {
    order: readOrder(fields.order, target),
    mostOdd: flag('even') ? 0 : whole('singles', Number.POSITIVE_INFINITY, 0, target.strings),
    keep: readKept(fields.keep, target),
    seamless: flag('seamless'),
    leadInRows: whole('leadInRows', 0, 0, MAX_ROWS - target.rows.length),
    weights: readWeights(fields.weights, target),
    mayStayOpen: flag('mayStayOpen'),
    steps: whole('steps', DEFAULT_STEPS, 1, MOST_STEPS),
  };
}

function readOrder(value: unknown, { strings, palette }: SolveTarget): ReadOptions['order'] {
  const path = 'options.order';
  if (value === undefined) return 'free';
  if (value === 'free' || value === 'mirrored' || value === 'nested') return value;
  if (!Array.isArray(value))
    throw new Refusal('wrong-type', path, { be: 'one-of', choices: 'free, mirrored, nested' }, value);
  if (value.length !== strings)
    throw new Refusal('wrong-count', path, { be: 'entries', least: strings, most: strings }, value.length);
  return value.map((id, place) => {
    const colour = palette.findIndex((entry) => entry.id === id);
    const choices = palette.map((entry) => entry.id).join(', ');
    if (colour < 0) throw new Refusal('unknown-colour', `${path}[${place}]`, { be: 'one-of', choices }, id);
    return colour;
  });
}

function readKept(value: unknown, { rows }: SolveTarget): ReadOptions['keep'] {
  if (value === undefined) return [];
  return asList(value, 'options.keep').map((entry, i) => {
    const path = `options.keep[${i}]`;
    const fields = asFields(entry, path);
    const row = asWhole(fields.row, `${path}.row`, 0, rows.length - 1);
    const k = asWhole(fields.k, `${path}.k`, 0, rows[row]!.length - 1);
    const code = typeof fields.kind === 'string' ? codeOfToken(fields.kind) : undefined;
    if (code === undefined) throw new Refusal('unknown-knot', `${path}.kind`, { be: 'knot' }, fields.kind);
    return { row, k, code };
  });
}

function readWeights(value: unknown, { rows }: SolveTarget): ReadOptions['weights'] {
  if (value === undefined) return null;
  const list = asList(value, 'options.weights');
  if (list.length !== rows.length)
    throw new Refusal(
      'wrong-count',
      'options.weights',
      { be: 'entries', least: rows.length, most: rows.length },
      list.length,
    );
  return list.map((row, r) => {
    const path = `options.weights[${r}]`;
    const cells = asList(row, path);
    const count = rows[r]!.length;
    if (cells.length !== count)
      throw new Refusal('wrong-count', path, { be: 'entries', least: count, most: count }, cells.length);
    return cells.map((cell, k) => asWhole(cell, `${path}[${k}]`, 0, MOST_WEIGHT));
  });
}
