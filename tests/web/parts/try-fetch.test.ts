/** Why something that is fetched later cannot be had. */
import { describe, expect, it, vi } from 'vitest';
import { fetchIfThere, tryFetch } from '../../../web/parts/index.ts';

const GONE = 'https://boards.example/assets/lb-shelf-1a2b3c4d.js';
const ENTRY = 'https://boards.example/assets/index-5e6f7a8b.js';

/** What the engines of browsers say; the third names no file. */
const MESSAGES = [
  `Failed to fetch dynamically imported module: ${GONE}`,
  `error loading dynamically imported module: ${GONE}`,
  'Importing a module script failed.',
];

const answers = (status: number, type = 'text/javascript'): Response =>
  new Response(null, { status, headers: { 'content-type': type } });

describe('[B190] [B191] why something cannot be fetched', () => {
  const why = async (message: string, answer: Response | null, entry: string | null = ENTRY) => {
    const asked: string[] = [];
    const head = (address: string): Promise<Response> => {
      asked.push(address);
      return answer === null ? Promise.reject(new TypeError('network error')) : Promise.resolve(answer);
    };
    const fetched = await tryFetch(() => Promise.reject(new TypeError(message)), {
      head,
      entry: () => entry,
    });
    return { asked, kind: fetched.ok ? 'there' : fetched.error.kind };
  };

  it.each(MESSAGES)('nobody answers: %s', async (message) => {
    expect((await why(message, null)).kind).toBe('unreachable');
  });

  it.each(MESSAGES)('the server has the file no more: %s', async (message) => {
    for (const answer of [answers(404), answers(410), answers(200, 'text/html; charset=utf-8')]) {
      const { asked, kind } = await why(message, answer);
      expect(kind).toBe('replaced');
      expect(asked).toEqual([message.includes(GONE) ? GONE : ENTRY]);
    }
  });

  it('the server has it, or is not well: it may be had on another try', async () => {
    for (const answer of [answers(200), answers(503), answers(502, 'text/html'), answers(429)])
      expect((await why(MESSAGES[0]!, answer)).kind).toBe('unreachable');
  });

  it('a browser that names no file, and a page that does not know how it began', async () => {
    expect(await why(MESSAGES[2]!, answers(404), null)).toEqual({ asked: [], kind: 'unreachable' });
  });

  it('a fault is none of this', async () => {
    await expect(tryFetch(() => Promise.reject(new RangeError('ours')))).rejects.toThrow('ours');
  });

  it('what is there is handed on', async () => {
    expect(await tryFetch(() => Promise.resolve(7))).toEqual({ ok: true, value: 7 });
  });

  it('where something stands in, nobody is asked why', async () => {
    const asked = vi.spyOn(globalThis, 'fetch');
    await fetchIfThere(() => Promise.reject(new TypeError(MESSAGES[0])));
    expect(asked).not.toHaveBeenCalled();
    await expect(fetchIfThere(() => Promise.reject(new RangeError('ours')))).rejects.toThrow('ours');
    asked.mockRestore();
  });
});
