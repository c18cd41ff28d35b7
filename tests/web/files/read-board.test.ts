/** A board as text that people bring: what is read, and which sentence says what is wrong. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { type Board, formatBoard } from '../../../engine/index.ts';
import { readBoardOf, readBoardText } from '../../../web/files/read-board.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';

/** A canvas that knows two names of CSS and takes no other for a colour, as browsers do. */
class Canvas {
  getContext(): object {
    const named = new Map([
      ['red', '#ff0000'],
      ['teal', '#008080'],
    ]);
    let style = '#000000';
    return {
      get fillStyle() {
        return style;
      },
      set fillStyle(value: string) {
        style = named.get(value.toLowerCase()) ?? (value.startsWith('#') ? value : style);
      },
    };
  }
}

beforeAll(async () => {
  stubPage();
  vi.stubGlobal('OffscreenCanvas', Canvas);
  await Promise.all([loadTexts('paper'), loadTexts('panels')]);
});
afterAll(() => vi.unstubAllGlobals());

function read(text: string, like: Board | null = null): Board {
  const found = readBoardText(text, like);
  if (!found.ok) throw new Error(found.why);
  return found.value;
}
function refused(text: string, like: Board | null = null): string {
  const found = readBoardText(text, like);
  if (found.ok) throw new Error('it was read');
  return found.why;
}
const shape = ({ pattern }: Board) => [pattern.colours.length, pattern.rows, pattern.start];

describe('rows of knots', () => {
  it('[X72] say by their lengths how many strings there are, and where the first begins', () => {
    expect(shape(read('f b fb\nbf -'))).toEqual([6, 2, 0]);
    expect(shape(read('f b\nfb bf -'))).toEqual([6, 2, 1]);
    expect(shape(read('f b\nfb bf'))).toEqual([5, 2, 0]);
    expect(shape(read('f b'))).toEqual([4, 1, 0]);
  });

  it('[X72] blank lines and blanks between mean nothing', () => {
    expect(read('\n  f   b\r\n\n\tfb\n')).toEqual(read('f b\nfb'));
  });

  it('[X72] without names the strings take the colours of the board where their number fits, else one', () => {
    const like = sampleBoard(6, 4);
    expect(read('f b fb\nbf -', like).pattern.colours).toEqual(like.pattern.colours);
    expect(read('f b\nfb', like).pattern.colours).toEqual(['r', 'r', 'r', 'r']);
    expect(new Set(read('f b\nfb').pattern.colours).size).toBe(1);
  });

  it('[X72] names are colours of the board, of CSS, or some that can be told apart', () => {
    const like = sampleBoard(4, 2);
    const board = read('strings: Green teal thistle green\nf b\nfb', like);
    const hexes = board.pattern.colours.map((id) => board.palette.find((colour) => colour.id === id)!.hex);
    expect([hexes[0], hexes[1], hexes[3]]).toEqual(['#22aa44', '#008080', '#22aa44']);
    expect(hexes[2]).toMatch(/^#[0-9a-f]{6}$/);
    expect(new Set(hexes).size).toBe(3);
    expect(board.colourways).toEqual([]);
    expect(read('a: Rust rust\nf').palette.map(({ name }) => name)).toEqual(['Rust']);
    const bare = read('strings: a b c d e f g h i j\nf f f f f\nf f f f');
    expect(bare.palette).toHaveLength(10);
  });
});

describe('what cannot be read', () => {
  it('[X72] is said with its line', () => {
    expect(refused('')).toBe('there are no rows of knots in it');
    expect(refused('a: red red')).toBe('there are no rows of knots in it');
    expect(refused('f b\n\nf q')).toContain('line 3: “q”');
    expect(refused('f b fb\nbf - f - f')).toBe('line 1 has 3 knots where 5 belong');
    expect(refused('a: red red teal teal\nf b\nf f')).toBe('line 3 has 2 knots where 1 belong');
  });

  it('[X72] a band has 2 to 200 strings', () => {
    expect(refused('a: red\nf')).toContain('names 1 string;');
    expect(refused(`a: ${'red '.repeat(201)}\nf`)).toContain('names 201 strings;');
    expect(refused('f '.repeat(101))).toContain('202 strings');
  });
});

describe('a board file', () => {
  it('[X72] is read where the text begins with a brace', () => {
    const board = sampleBoard();
    expect(formatBoard(read(` ${JSON.stringify(formatBoard(board))}`))).toEqual(formatBoard(board));
  });

  it('[X72] that is none is refused in words', () => {
    for (const text of ['{', '{}', '{"format":"larkboard","version":99}']) {
      expect(readBoardText(text, null)).toMatchObject({ ok: false });
      expect(refused(text)).toMatch(/\w{3,} \w+/);
    }
  });
});

describe('a file that somebody chose', () => {
  const refusedOf = async (...parts: BlobPart[]): Promise<string> => {
    const found = await readBoardOf(new Blob(parts));
    if (found.ok) throw new Error('it was read');
    return found.why;
  };
  const bytes = (text: string): Uint8Array<ArrayBuffer> =>
    Uint8Array.from(text, (letter) => letter.charCodeAt(0));

  it.each([
    ['PNG', bytes('\x89PNG\r\n\x1a\n')],
    ['JPEG', bytes('\xff\xd8\xff\xe0\x00\x10JFIF')],
    ['GIF', bytes('GIF89a')],
    ['WebP', bytes('RIFF\x10\x00\x00\x00WEBPVP8 ')],
    ['AVIF', bytes('\x00\x00\x00\x1cftypavif')],
    ['HEIC', bytes('\x00\x00\x00\x18ftypheic')],
    ['PDF', bytes('%PDF-1.7')],
    ['SVG', '<?xml version="1.0"?>\n<!-- a heart -->\n<svg xmlns="http://www.w3.org/2000/svg"/>'],
  ])('[X76] of a picture it is said that it is one: %s', async (_, start) => {
    expect(await refusedOf(start)).toContain('it is a picture');
  });

  it('[X76] what is neither a picture nor a board is refused as such, and a board is read', async () => {
    for (const other of ['', 'PNG', '{"format":', '{"title":"<svg"'])
      expect(await refusedOf(other)).not.toContain('picture');
    const board = sampleBoard(6, 4);
    const found = await readBoardOf(new Blob([JSON.stringify(formatBoard(board))]));
    expect(found.ok && found.value.pattern.colours).toEqual(board.pattern.colours);
  });
});
