/** Parts that are fetched later: what is fetched, what is registered, and who is told of one that cannot be had. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import {
  fetchMeanwhile as typedMeanwhile,
  letMissing,
  missingPart,
  onTold,
  type PartManifest,
  fetchPart as typedFetch,
  usePart as typedUse,
  registerParts,
  toldMissing,
  type tryFetch,
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

const fetchMeanwhile = typedMeanwhile as unknown as (name: string) => Promise<void>;

const ENTRY = 'https://boards.example/assets/index-5e6f7a8b.js';

/** As browsers do that name no file. */
const failing = (): Promise<never> => Promise.reject(new TypeError('Importing a module script failed.'));

const answers = (status: number, type = 'text/javascript'): Response =>
  new Response(null, { status, headers: { 'content-type': type } });

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
      lost: { file: failing },
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
    expect(await usePart('lost', used)).toBe('unreachable');
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
    expect(await usePart('lost', () => {}, true)).toBe('unreachable');
    expect(toldMissing()).toBeNull();
    heads = answers(404);
    expect(await usePart('lost', () => {}, true)).toBe('replaced');
    expect(toldMissing()?.kind).toBe('replaced');
  });

  it('[B190] what nobody waits for is fetched once it can be, without a word', async () => {
    vi.useFakeTimers();
    try {
      await fetchMeanwhile('lacking');
      await vi.advanceTimersByTimeAsync(60_000);
      const tried = fetched.length;
      expect(tried).toBeGreaterThan(5);
      expect([toldMissing(), defined.size]).toEqual([null, 0]);
      declare({ lost: { file: file('lost', { LbPeg }), elements: ['lb-peg'] } });
      await vi.advanceTimersByTimeAsync(4000);
      expect([...defined.keys()]).toEqual(['lb-peg']);
      const before = fetched.length;
      await vi.advanceTimersByTimeAsync(60_000);
      expect(fetched).toHaveLength(before);
      // What a newer release has replaced can never come.
      declare();
      heads = answers(404);
      await fetchMeanwhile('lacking');
      expect(toldMissing()?.kind).toBe('replaced');
      expect(vi.getTimerCount()).toBe(0);
    } finally {
      vi.useRealTimers();
    }
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
