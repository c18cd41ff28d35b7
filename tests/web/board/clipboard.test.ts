/** What the page takes from the browser's clipboard and sheets. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readClipboard, writeClipboard } from '../../../web/board/clipboard.ts';

afterEach(() => vi.unstubAllGlobals());

function stubClipboard(text: string | Error): string[] {
  const written: string[] = [];
  vi.stubGlobal('navigator', {
    clipboard: {
      writeText: async (more: string) => {
        if (text instanceof Error) throw text;
        written.push(more);
      },
      readText: async () => {
        if (text instanceof Error) throw text;
        return text;
      },
    },
  });
  return written;
}

describe('[B147] the clipboard', () => {
  it('takes and gives text', async () => {
    const written = stubClipboard('f b');
    expect([await writeClipboard('b f'), await readClipboard(), written]).toEqual([true, 'f b', ['b f']]);
  });

  it('that the browser refuses holds nothing, as where it has none', async () => {
    stubClipboard(new DOMException('not now', 'NotAllowedError'));
    expect([await writeClipboard('b f'), await readClipboard()]).toEqual([false, null]);
    vi.stubGlobal('navigator', {});
    expect([await writeClipboard('b f'), await readClipboard()]).toEqual([false, null]);
  });

  it('with a fault is none to pass over', async () => {
    stubClipboard(new RangeError('a fault'));
    await expect(writeClipboard('b f')).rejects.toThrow('a fault');
    await expect(readClipboard()).rejects.toThrow('a fault');
  });
});
