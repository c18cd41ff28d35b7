/** What the page gives out as files, and what it takes of what is dropped on it. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { parseBoard, rowPerWidth } from '../../../engine/index.ts';
import { FileDrop, fileName, saveFile } from '../../../web/files/index.ts';
import { heightAt, MAX_SIDE_PX, pictureOf, pngOf } from '../../../web/files/picture-file.ts';
import { dragBoardFile, saveBoardFile } from '../../../web/files/save-file.ts';
import { stubPage } from '../../support/page-globals.ts';
import { sampleBoard } from '../../support/sample-board.ts';
import { wordsOf } from '../../support/template-text.ts';
import { stubHost } from '../../support/visited-page.ts';

/** Files that the page holds an address of. */
let held: Map<string, Blob>;
beforeEach(() => {
  held = new Map();
  stubPage();
  let next = 0;
  vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
    const address = `blob:${next++}`;
    held.set(address, blob as Blob);
    return address;
  });
  vi.spyOn(URL, 'revokeObjectURL').mockImplementation((address) => void held.delete(address));
});
afterEach(() => {
  vi.useRealTimers();
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

describe('the name of a file', () => {
  it.each([
    ['Tail for Monday', 'Tail-for-Monday.json'],
    ['  Glück & Äpfel!  ', 'Glück-Äpfel.json'],
    ['紐 2', '紐-2.json'],
    ['../../etc', 'etc.json'],
    ['', 'board.json'],
    ['…?!', 'board.json'],
  ])('of %j is %s', (title, name) => expect(fileName(title, 'json')).toBe(name));
});

describe('a file that is saved', () => {
  let clicked: { href: string; download: string }[];
  beforeEach(() => {
    clicked = [];
    vi.stubGlobal('document', {
      documentElement: { lang: 'en' },
      createElement: () => {
        const link = { href: '', download: '', click: () => void clicked.push({ ...link }) };
        return link;
      },
    });
    vi.useFakeTimers();
  });

  it('is offered under its name, and its address holds until the browser has read it', () => {
    saveFile('steps.txt', new Blob(['tie']));
    expect(clicked).toMatchObject([{ href: 'blob:0', download: 'steps.txt' }]);
    expect(held.size).toBe(1);
    vi.runAllTimers();
    expect(held.size).toBe(0);
  });

  it('of a board opens again as the same board', async () => {
    const board = sampleBoard();
    saveBoardFile(board);
    expect(clicked[0]?.download).toBe('Test-input.json');
    const text = (await held.get('blob:0')?.text()) ?? '';
    expect(parseBoard(text)).toEqual({ ok: true, value: board });
  });

  it('[B130] of a board can be dragged out, as a file and as text, until the drag has ended', async () => {
    const given = new Map<string, string>();
    const transfer = {
      effectAllowed: 'none',
      setData: (kind: string, data: string) => given.set(kind, data),
    };
    const end = dragBoardFile(sampleBoard(), transfer as unknown as DataTransfer);
    expect(transfer.effectAllowed).toBe('copy');
    expect(given.get('DownloadURL')).toBe('application/json:Test-input.json:blob:0');
    expect(parseBoard(given.get('text/plain') ?? '')).toEqual({ ok: true, value: sampleBoard() });
    expect(await held.get('blob:0')?.text()).toBe(given.get('text/plain'));
    end();
    expect(held.size).toBe(0);
  });
});

describe('a picture', () => {
  const board = sampleBoard(6, 8);
  const led = { ...board, piece: { ...board.piece, leadInRows: 2 } };

  it('[B200] shows so many repeats, or the piece with where it stops, in the size that is told before and the shape of the band', () => {
    const heightOf = (svg: string): number => Number(/viewBox="0 0 \d+ ([\d.]+)"/.exec(svg)?.[1]);
    const widthOf = (svg: string): number => Number(/viewBox="0 0 (\d+)/.exec(svg)?.[1]);
    for (const [one, repeats, rows] of [
      [board, 1, 8],
      [board, 3, 24],
      [led, 3, 2 + 3 * 6],
      // 20 rows of 1.5525 mm and one more height.
      [{ ...board, piece: { lengthMm: 32.6 }, gauge: {} }, 'piece', 20],
      [{ ...board, piece: {}, gauge: { cordMm: 1, rowMm: 1.3 } }, 1, 8],
    ] as const) {
      const svg = pictureOf(one, 'Kites', repeats);
      expect(svg).toContain('Kites');
      const ratio = rowPerWidth(one.gauge);
      expect(heightAt(one, repeats, 960)).toBe(Math.round((((rows + 1) * ratio) / 6) * 960));
      expect(heightAt(one, repeats, widthOf(svg))).toBe(Math.round(heightOf(svg)));
    }
  });

  it('has the textures that the maker has chosen', () => {
    const alike = { ...board, palette: board.palette.map((colour) => ({ ...colour, hex: '#cc2222' })) };
    const plain = pictureOf(alike, 'Kites', 1);
    localStorage.setItem('larkboard.textures', 'on');
    expect(pictureOf(alike, 'Kites', 1)).not.toBe(plain);
  });

  describe('in pixels', () => {
    let drawn: unknown[];
    let canDecode: boolean;
    let hasCanvas: boolean;
    beforeEach(() => {
      drawn = [];
      canDecode = true;
      hasCanvas = true;
      vi.stubGlobal(
        'Image',
        class {
          src = '';
          async decode(): Promise<void> {
            if (!canDecode) throw new DOMException('no picture', 'EncodingError');
          }
        },
      );
      vi.stubGlobal(
        'OffscreenCanvas',
        class {
          readonly size: readonly number[];
          constructor(...size: number[]) {
            this.size = size;
          }
          getContext(): object | null {
            const drawImage = ({ src }: { src: string }, ...box: number[]): unknown => drawn.push(src, box);
            return hasCanvas ? { drawImage } : null;
          }
          async convertToBlob({ type }: { type: string }): Promise<Blob> {
            return new Blob([this.size.join()], { type });
          }
        },
      );
    });

    it('fills the size asked for, and keeps nothing of the drawing', async () => {
      const png = await pngOf('<svg/>', 300, 200);
      expect([png.type, await png.text()]).toEqual(['image/png', '300,200']);
      expect(drawn).toEqual(['blob:0', [0, 0, 300, 200]]);
      expect(held.size).toBe(0);
    });

    it.each([
      [MAX_SIDE_PX + 1, 10],
      [10, MAX_SIDE_PX + 1],
    ])('%i by %i is larger than browsers draw', async (width, height) => {
      await expect(pngOf('<svg/>', width, height)).rejects.toThrow(RangeError);
      expect(drawn).toEqual([]);
    });

    it('fails where the browser cannot draw it, and keeps nothing either', async () => {
      canDecode = false;
      await expect(pngOf('<svg/>', 300, 200)).rejects.toThrow('no picture');
      canDecode = true;
      hasCanvas = false;
      await expect(pngOf('<svg/>', 300, 200)).rejects.toThrow('no canvas');
      expect(held.size).toBe(0);
    });
  });
});

describe('[X70] a file dropped on the page', () => {
  let taken: unknown[];
  let isWanted: boolean;
  let host: ReturnType<typeof stubHost>;
  let drop: FileDrop;
  const events = new EventTarget();
  beforeEach(() => {
    taken = [];
    isWanted = true;
    vi.stubGlobal('addEventListener', events.addEventListener.bind(events));
    vi.stubGlobal('removeEventListener', events.removeEventListener.bind(events));
    host = stubHost();
    drop = new FileDrop(host, {
      isWanted: () => isWanted,
      onFile: (file) => taken.push(file),
      onProblem: (sentence) => taken.push(sentence),
    });
    drop.hostConnected();
  });
  afterEach(() => drop.hostDisconnected());

  /** @returns whether the page took it from the browser */
  function send(kind: 'dragover' | 'dragleave' | 'drop', more: object): boolean {
    const event = Object.assign(new Event(kind, { cancelable: true }), more);
    events.dispatchEvent(event);
    return event.defaultPrevented;
  }
  const over = (types: readonly string[] = ['Files']): boolean =>
    send('dragover', { dataTransfer: { types } });
  const dropped = (...files: readonly unknown[]): boolean => send('drop', { dataTransfer: { files } });
  const says = (): string => wordsOf(drop.render());

  it('is taken, and where to drop it shows only while it hangs over the page', () => {
    expect(says()).toBe('');
    expect(over()).toBe(true);
    over();
    expect([says(), host.updates]).toEqual(['Drop the board file here', 1]);
    send('dragleave', { relatedTarget: {} });
    expect(says()).not.toBe('');
    send('dragleave', { relatedTarget: null });
    expect(says()).toBe('');
    over();
    expect(dropped('kites.json')).toBe(true);
    expect([taken, says()]).toEqual([['kites.json'], '']);
  });

  it('one at a time', () => {
    expect(dropped('a.json', 'b.json')).toBe(true);
    expect(taken).toEqual(['Drop one file at a time.']);
  });

  it('where none is wanted the page stays, and nothing is taken', () => {
    isWanted = false;
    expect([over(), says(), dropped('kites.json'), taken]).toEqual([true, '', true, []]);
  });

  it('text, or nothing, is left to the browser', () => {
    expect(over(['text/plain'])).toBe(false);
    expect(send('dragover', { dataTransfer: null })).toBe(false);
    expect([dropped(), send('drop', { dataTransfer: null }), taken, says()]).toEqual([false, false, [], '']);
  });

  it('on a page that has gone is nobody’s', () => {
    drop.hostDisconnected();
    expect([over(), dropped('kites.json'), send('dragleave', { relatedTarget: null }), taken]).toEqual([
      false,
      false,
      false,
      [],
    ]);
  });
});
