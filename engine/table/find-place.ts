/** Where in the work one is, by how the strings hang. */
import type { Board, ColourId } from '../pattern/index.ts';
import { type WorkOrderFailure, type WorkOrderOptions, type WorkStep, workOrder } from '../work/index.ts';
import { exchange, isExchange } from './hanging.ts';

/** Options under which a place can always be looked for. */
type SureOptions = Omit<WorkOrderOptions, 'method' | 'covers'> & {
  readonly method?: 'rows' | 'segments';
  readonly covers?: 'pattern';
};

/**
 * After how many steps of an order of work the strings hang in these colours: ascending, 0 to all.
 * @param colours palette id per place, left to right, as the strings hang now
 * @param options those of `workOrder`, and their defaults
 * @returns the failure of `workOrder` where it gives no order
 * @throws RangeError when there are not as many colours as strings; else as `workOrder`
 * What `workOrder` costs, and O(strings + steps). Rule H11.
 */
export function findPlace(
  board: Board,
  colours: readonly ColourId[],
  options?: SureOptions,
): readonly number[];
export function findPlace(
  board: Board,
  colours: readonly ColourId[],
  options: WorkOrderOptions,
): readonly number[] | WorkOrderFailure;
export function findPlace(
  board: Board,
  colours: readonly ColourId[],
  options: WorkOrderOptions = {},
): readonly number[] | WorkOrderFailure {
  const order = workOrder(board, options);
  return order.ok ? placesIn(board, order.steps, colours) : order;
}

/** {@link findPlace} in an order that is there already. */
export function placesIn(
  { pattern }: Pick<Board, 'pattern'>,
  steps: readonly WorkStep[],
  colours: readonly ColourId[],
): readonly number[] {
  const strings = pattern.colours.length;
  if (colours.length !== strings)
    throw new RangeError(`${colours.length} colours hang where there are ${strings} strings`);
  const order = Int16Array.from({ length: strings }, (_, place) => place);
  const differs = (place: number): number => (pattern.colours[order[place]!] === colours[place] ? 0 : 1);
  let wrong = 0;
  for (let place = 0; place < strings; place++) wrong += differs(place);
  const places = wrong === 0 ? [0] : [];
  for (const [at, step] of steps.entries()) {
    if (isExchange(step)) {
      const { place } = step;
      wrong -= differs(place) + differs(place + 1);
      exchange(order, place);
      wrong += differs(place) + differs(place + 1);
    }
    if (wrong === 0) places.push(at + 1);
  }
  return places;
}
