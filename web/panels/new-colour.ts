/** A colour to begin with that is like none of the palette, in look and in name. */
import { distinctColour, type PaletteColour } from '../../engine/index.ts';
import { t } from '../text/index.ts';

export function newColour(palette: readonly PaletteColour[]): {
  readonly name: string;
  readonly hex: string;
} {
  const taken = new Set(palette.map(({ name }) => name.trim().toLowerCase()));
  let name = t('palette.new');
  for (let number = 2; taken.has(name.toLowerCase()); number++) name = t('palette.newNumbered', { number });
  return { name, hex: distinctColour(palette.map(({ hex }) => hex)) };
}
