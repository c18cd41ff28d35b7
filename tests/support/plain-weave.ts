/** Weaving by the book, one string object after another: slow, short, and sharing no code with the engine. */

export interface PlainWeave {
  readonly shown: number[][];
  readonly order: number[][];
  readonly finalOrder: number[];
}

/** @param rows tokens of each row, as in a board file */
export function plainWeave(strings: number, start: number, rows: readonly string[]): PlainWeave {
  let hanging = Array.from({ length: strings }, (_, i) => i);
  const shown: number[][] = [];
  const order: number[][] = [];
  rows.forEach((text, row) => {
    order.push(hanging);
    const isShifted = (start + row) % 2 === 1;
    const after: number[] = isShifted ? [hanging[0]!] : [];
    const seen: number[] = [];
    for (const token of text.split(' ').filter((t) => t !== '')) {
      const [left, right] = [hanging[after.length]!, hanging[after.length + 1]!];
      switch (token) {
        case 'f': // The left string is tied over the right one and goes to the right.
          after.push(right, left);
          seen.push(left);
          break;
        case 'b': // The right string is tied over the left one and goes to the left.
          after.push(right, left);
          seen.push(right);
          break;
        case 'fb': // The left string is tied over the right one, to the right and back.
          after.push(left, right);
          seen.push(left);
          break;
        case 'bf':
          after.push(left, right);
          seen.push(right);
          break;
        default:
          after.push(left, right);
          seen.push(-1);
      }
    }
    after.push(...hanging.slice(after.length));
    shown.push(seen);
    hanging = after;
  });
  return { shown, order, finalOrder: hanging };
}
