/** All text of the page in one place, ready for other languages. */
import { en } from './en.ts';
import { enBoard } from './en-board.ts';
import { enLinks } from './en-links.ts';
import { enPanels } from './en-panels.ts';

const texts = { ...en, ...enBoard, ...enLinks, ...enPanels };
export type TextKey = keyof typeof texts;

/**
 * The text of a key, with `{name}` filled in.
 * @throws RangeError when the text names a value that was not given
 */
export function t(key: TextKey, values: Readonly<Record<string, string | number>> = {}): string {
  return texts[key].replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values[name];
    if (value === undefined) throw new RangeError(`the text ${key} needs a value for ${name}`);
    return String(value);
  });
}
