/** Parts that are fetched later: what is fetched, what is registered, and why one cannot be had. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  letMissing,
  missingPart,
  onTold,
  type PartManifest,
  fetchPart as typedFetch,
  usePart as typedUse,
  registerParts,
  toldMissing,
  tryFetch,
} from '../../../web/parts/index.ts';
import { hasText, t } from '../../../web/text/index.ts';

// Names and files are those of the page's own manifest; here they are others.
const fetchPart = typedFetch as unknown as (
  name: string,
) => ReturnType<typeof tryFetch<Record<string, unknown>>>;
const usePart = typedUse as unknown as (
  name: string,
  use: (file: Record<string, unknown>) => unknown,
  isQuiet?: boolean,
) => Promise<boolean>;

const GONE = 'https://boards.example/assets/lb-shelf-1a2b3c4d.js';
const ENTRY = 'https://boards.example/assets/index-5e6f7a8b.js';

/** What the engines of browsers say; the third names no file. */
const MESSAGES = [
  `Failed to fetch dynamically imported module: ${GONE}`,
  `error loading dynamically imported module: ${GONE}`,
  'Importing a module script failed.',
];

const failing =
  (message = MESSAGES[0]) =>
  (): Promise<never> =>
    Promise.reject(new TypeError(message));

const answers = (status: number, type = 'text/javascript'): Response =>
  new Response(null, { status, headers: { 'content-type': type } });

describe('[B190] [B191] why something cannot be fetched', () => {
  const why = async (message: string, answer: Response | null, entry: string | null = ENTRY) => {
    const asked: string[] = [];
    const head = (address: string): Promise<Response> => {
      asked.push(address);
      return answer === null ? Promise.reject(new TypeError('network error')) : Promise.resolve(answer);
    };
    const fetched = await tryFetch(failing(message), { head, entry: () => entry });
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
});

describe('parts', () => {
  const defined = new Map<string, unknown>();
  let fetched: string[];
  let heads: Response | null;

  const file = (name: string, exported: object) => (): Promise<object> => {
    fetched.push(name);
    return Promise.resolve(exported);
  };
  class LbHook {}
  class LbHookRow {}
  class LbPeg {}

  const declare = (more: PartManifest = {}): void =>
    registerParts({
      peg: { file: file('peg', { LbPeg }), elements: ['lb-peg'] },
      hooks: {
        file: file('hooks', { LbHook, LbHookRow, count: 3 }),
        texts: ['help'],
        elements: ['lb-hook-row', 'lb-hook'],
        needs: ['peg'],
      },
      lost: { file: failing() },
      lacking: { file: file('lacking', {}), needs: ['lost'] },
      ...more,
    });

  beforeEach(() => {
    fetched = [];
    heads = null;
    defined.clear();
    vi.stubGlobal('customElements', {
      get: (tag: string) => defined.get(tag),
      define: (tag: string, element: unknown) => {
        if (typeof element !== 'function') throw new TypeError(`${tag} is no element`);
        defined.set(tag, element);
      },
    });
    vi.stubGlobal('document', { querySelector: () => ({ src: ENTRY }) });
    vi.stubGlobal('fetch', () =>
      heads === null ? Promise.reject(new TypeError('no network')) : Promise.resolve(heads),
    );
    declare();
    letMissing();
  });
  afterEach(() => {
    vi.unstubAllGlobals();
  });

  it('[B30] a part comes with what it needs and its texts; elements are registered, the needed ones first', async () => {
    expect(hasText('help.together')).toBe(false);
    const got = await fetchPart('hooks');
    expect(got.ok && got.value.count).toBe(3);
    expect(fetched).toEqual(['peg', 'hooks']);
    expect([...defined]).toEqual([
      ['lb-peg', LbPeg],
      ['lb-hook-row', LbHookRow],
      ['lb-hook', LbHook],
    ]);
    expect(hasText('help.together')).toBe(true);
    expect((await fetchPart('hooks')).ok).toBe(true);
    expect(defined.size).toBe(3);
  });

  it('[B190] of a part that lacks one it needs nothing is registered, until all of it is there', async () => {
    expect(await fetchPart('lacking')).toEqual({ ok: false, error: { kind: 'unreachable' } });
    heads = answers(404);
    expect(await fetchPart('lost')).toEqual({ ok: false, error: { kind: 'replaced' } });
    declare({ lost: { file: file('lost', {}) } });
    expect((await fetchPart('lacking')).ok).toBe(true);
  });

  it('an unknown name, and an element that the file does not export, are faults', async () => {
    await expect(fetchPart('nowhere')).rejects.toThrow(RangeError);
    declare({ bare: { file: file('bare', {}), elements: ['lb-bare'] } });
    await expect(fetchPart('bare')).rejects.toThrow('lb-bare is no element');
  });

  it('[B190] who asked in vain is told, and trying again does what was asked', async () => {
    const told = vi.fn();
    const stop = onTold(told);
    const used = vi.fn();
    expect(await usePart('lost', used)).toBe(false);
    expect(told).toHaveBeenCalledTimes(1);
    const missing = toldMissing()!;
    expect(missing.kind).toBe('unreachable');
    declare({ lost: { file: file('lost', { count: 4 }) } });
    await missing.again();
    expect(used.mock.calls).toEqual([[{ count: 4 }]]);
    letMissing();
    expect(toldMissing()).toBeNull();
    stop();
    expect(told).toHaveBeenCalledTimes(2);
  });

  it('[B191] where nobody asked, only a newer release is told', async () => {
    expect(await usePart('lost', () => {}, true)).toBe(false);
    expect(toldMissing()).toBeNull();
    heads = answers(404);
    expect(await usePart('lost', () => {}, true)).toBe(false);
    expect(toldMissing()?.kind).toBe('replaced');
  });

  it('a fault in what is done with a part is none of its being missing', async () => {
    const use = (): never => {
      throw new TypeError('ours');
    };
    await expect(usePart('peg', use)).rejects.toThrow('ours');
    expect(toldMissing()).toBeNull();
  });

  it('[B190] [B191] each kind is one sentence and one button', () => {
    const words = (kind: 'unreachable' | 'replaced'): unknown[] => missingPart(kind, () => {}).values;
    expect(words('unreachable')).toEqual(expect.arrayContaining([t('app.notFetched'), t('app.again')]));
    expect(words('replaced')).toEqual(expect.arrayContaining([t('app.replaced'), t('app.reload')]));
  });
});
