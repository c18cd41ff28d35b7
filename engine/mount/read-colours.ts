/** What a caller gives as colours, checked. */
import { MAX_STRINGS } from '../pattern/index.ts';

/** The ids as text. @throws as {@link planMount} says. */
export function readColours(colours: readonly (string | number)[]): string[] {
  if (!Array.isArray(colours)) throw new TypeError(`colours must be a list, not ${typeof colours}`);
  if (colours.length < 1 || colours.length > MAX_STRINGS)
    throw new RangeError(`colours must have 1 to ${MAX_STRINGS} places, not ${colours.length}`);
  return colours.map((colour, place) => {
    if (typeof colour !== 'string' && typeof colour !== 'number')
      throw new TypeError(`colours[${place}] must be text or a number, not ${String(colour)}`);
    return String(colour);
  });
}
