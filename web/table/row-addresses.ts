/** How the rows of a board are addressed, as texts to be kept: a row keeps its address whatever is put in or taken out above it. */
import type { Design } from '../../engine/document/index.ts';

type Rows = Pick<Design, 'rowAddressOf' | 'rowOf'>;

/** Addresses of the rows of a design, from the first on. O(rows). */
export function rowTexts(design: Rows): readonly string[] {
  const texts: string[] = [];
  for (let row = 0; ; row++) {
    const address = design.rowAddressOf(row);
    if (address === null) return texts;
    texts.push(`${address.half} ${address.rowPair}`);
  }
}

/** Where a row begun with is now, null when it is gone; of rows that were not kept the one of the same number. Rule N40. */
export function rowFinder(design: Rows, texts: readonly string[]): (row: number) => number | null {
  if (texts.length === 0) return (row) => row;
  return (row) => {
    const text = texts[row];
    if (text === undefined) return null;
    const half = text.startsWith('seam ') ? 'seam' : 'inside';
    return design.rowOf({ half, rowPair: text.slice(text.indexOf(' ') + 1) });
  };
}
