/** One step smaller or larger of what can be chosen of a shape. */
import { choicesOf, fitShape, type Shape } from '../../engine/index.ts';

/** What is chosen by steps. */
export type StepName = 'size' | 'width' | 'colours' | 'across';

/**
 * The shape with the next value of one kind, down or up; null where there is none. Parts may take others along, since they share the strings.
 * @param mostColours colours there are
 */
export function stepped(shape: Shape, name: StepName, by: -1 | 1, mostColours: number): Shape | null {
  const values = choicesOf(shape)[name].filter((value) => name !== 'colours' || value <= mostColours);
  const at = values.indexOf(shape[name]);
  const next = values[at + by];
  return at < 0 || next === undefined
    ? null
    : fitShape(shape.kind, shape.strings, { ...shape, [name]: next });
}

/** The shape leaning the other way; null where it has but one. */
export function turnedOver(shape: Shape): Shape | null {
  if (choicesOf(shape).isTurned.length < 2) return null;
  return fitShape(shape.kind, shape.strings, { ...shape, isTurned: !shape.isTurned });
}

/** The shape with its lines once or twice drawn; null where there is no room. */
export function redrawn(shape: Shape): Shape | null {
  const { lines } = choicesOf(shape);
  const next = shape.lines === 1 ? 2 : 1;
  return lines.includes(next) ? fitShape(shape.kind, shape.strings, { ...shape, lines: next }) : null;
}
