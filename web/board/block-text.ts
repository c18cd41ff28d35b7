/**
 * Blocks of knots as text, for the clipboard: one line a row, tokens `f b fb bf -` as in board files. Rows stagger, so every other
 * line begins half a knot further right; it is indented. Only the indentation of the first line is read.
 */
import {
  type Block,
  type Cell,
  cellOfPlace,
  cellsInBlock,
  KNOT_TOKENS,
  type KnotCode,
  MAX_ROWS,
  MAX_STRINGS,
  type Pattern,
  placeOfCell,
  rowParity,
  rowStride,
  type Stagger,
} from '../../engine/index.ts';
import type { TiedCell } from './mirror.ts';

/** Knots with gaps left out: `null` where the block has none. */
export interface KnotBlock {
  /** 1 when the first row begins half a knot further right than the block. */
  readonly indent: 0 | 1;
  readonly rows: readonly (readonly KnotCode[])[];
}

export type BlockError =
  | { readonly kind: 'empty' }
  | { readonly kind: 'too-large' }
  | { readonly kind: 'unknown-token'; readonly line: number; readonly token: string };

export type BlockResult =
  | { readonly ok: true; readonly value: KnotBlock }
  | { readonly ok: false; readonly error: BlockError };

/** The knots of a block of the pattern. */
export function cutBlock(pattern: Pattern, block: Block): KnotBlock {
  const stride = rowStride(pattern.colours.length);
  const rows: KnotCode[][] = [];
  for (let row = block.fromRow; row <= block.toRow; row++) {
    const parity = rowParity(pattern.start, row);
    const knots: KnotCode[] = [];
    const first = block.fromPlace + ((block.fromPlace + parity) & 1);
    for (let place = first; place + 1 <= block.toPlace; place += 2)
      knots.push(pattern.knots[row * stride + ((place - parity) >> 1)] as KnotCode);
    rows.push(knots);
  }
  const parity = rowParity(pattern.start, block.fromRow);
  return { indent: ((block.fromPlace + parity) & 1) as 0 | 1, rows };
}

/** The block as text. The inverse of {@link readBlock}. */
export function blockAsText({ indent, rows }: KnotBlock): string {
  return rows
    .map((knots, i) => `${(indent + i) & 1 ? '  ' : ''}${knots.map((knot) => KNOT_TOKENS[knot]).join(' ')}`)
    .join('\n');
}

/** Reads a block; refuses text that is none, naming line (from 1) and token. */
export function readBlock(text: string): BlockResult {
  const lines = text.replace(/\r/g, '').split('\n');
  while (lines.length > 0 && (lines[lines.length - 1] as string).trim() === '') lines.pop();
  while (lines.length > 0 && (lines[0] as string).trim() === '') lines.shift();
  if (lines.length === 0) return { ok: false, error: { kind: 'empty' } };
  if (lines.length > MAX_ROWS) return { ok: false, error: { kind: 'too-large' } };
  const rows: KnotCode[][] = [];
  for (const [index, line] of lines.entries()) {
    const tokens = line.trim() === '' ? [] : line.trim().split(/\s+/);
    if (tokens.length > MAX_STRINGS / 2) return { ok: false, error: { kind: 'too-large' } };
    const knots: KnotCode[] = [];
    for (const token of tokens) {
      const code = (KNOT_TOKENS as readonly string[]).indexOf(token);
      if (code < 0)
        return { ok: false, error: { kind: 'unknown-token', line: index + 1, token: token.slice(0, 20) } };
      knots.push(code as KnotCode);
    }
    rows.push(knots);
  }
  // Every other line is indented. Who marks text with the mouse loses the blanks before its first word.
  const indented = lines.findIndex((line) => /^\s/.test(line));
  return { ok: true, value: { indent: indented >= 0 && indented % 2 === 0 ? 1 : 0, rows } };
}

/**
 * Where the knots of a block come to lie when its first knot is laid on `at`.
 * @returns the knots inside the pattern, and how many fell outside
 */
export function placeBlock(
  stagger: Stagger,
  block: KnotBlock,
  at: Cell,
): { readonly knots: readonly TiedCell[]; readonly outside: number } {
  const left = placeOfCell(stagger, at) - block.indent;
  const knots: TiedCell[] = [];
  let outside = 0;
  block.rows.forEach((row, i) => {
    const offset = (block.indent + i) & 1;
    row.forEach((knot, j) => {
      const cell = cellOfPlace(stagger, at.row + i, left + offset + 2 * j);
      if (cell === null) outside++;
      else knots.push({ ...cell, knot });
    });
  });
  return { knots, outside };
}

/** The block again and again below itself, or beside itself, until the pattern ends; itself left out. */
export function repeatedBlock(
  stagger: Stagger,
  pattern: Pattern,
  block: Block,
  direction: 'down' | 'right',
): readonly TiedCell[] {
  const cut = cutBlock(pattern, block);
  const even = (length: number): number => length + (length & 1);
  const down = direction === 'down' ? even(block.toRow - block.fromRow + 1) : 0;
  const right = direction === 'right' ? even(block.toPlace - block.fromPlace + 1) : 0;
  const knots: TiedCell[] = [];
  for (let i = 1; ; i++) {
    const fromRow = block.fromRow + i * down;
    const fromPlace = block.fromPlace + i * right;
    if (fromRow >= stagger.rows || fromPlace >= stagger.strings - 1) return knots;
    cut.rows.forEach((row, r) => {
      const offset = (cut.indent + r) & 1;
      row.forEach((knot, j) => {
        const cell = cellOfPlace(stagger, fromRow + r, fromPlace + offset + 2 * j);
        if (cell !== null) knots.push({ ...cell, knot });
      });
    });
  }
}

/** The block moved by the way from one knot to another. */
export function shiftedBlock(stagger: Stagger, block: Block, from: Cell, to: Cell): Block {
  const rows = to.row - from.row;
  const places = placeOfCell(stagger, to) - placeOfCell(stagger, from);
  return {
    fromRow: block.fromRow + rows,
    toRow: block.toRow + rows,
    fromPlace: block.fromPlace + places,
    toPlace: block.toPlace + places,
  };
}

/**
 * The knots to tie so that what is in `from` lies in `to`, a block of the same size on the same stagger. What it leaves is untied,
 * unless it is copied.
 * @returns the knots inside the pattern, and how many fell outside
 */
export function movedBlock(
  stagger: Stagger,
  pattern: Pattern,
  from: Block,
  to: Block,
  copies: boolean,
): { readonly knots: readonly TiedCell[]; readonly outside: number } {
  const knots = new Map<string, TiedCell>();
  if (!copies)
    for (const cell of cellsInBlock(stagger, from)) knots.set(`${cell.row}:${cell.k}`, { ...cell, knot: 0 });
  const block = cutBlock(pattern, from);
  const row = to.fromRow;
  const corner = { row, k: (to.fromPlace + block.indent - ((stagger.start + row) & 1)) / 2 };
  const placed = placeBlock(stagger, block, corner);
  for (const knot of placed.knots) knots.set(`${knot.row}:${knot.k}`, knot);
  return { knots: [...knots.values()], outside: placed.outside };
}

/** What is to be pasted: the block that the text holds, or without text what was copied last. */
export function readClip(text: string | null, copied: KnotBlock | null): BlockResult {
  if (text !== null) return readBlock(text);
  return copied === null ? { ok: false, error: { kind: 'empty' } } : { ok: true, value: copied };
}
