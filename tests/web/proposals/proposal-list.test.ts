/** The list of proposals: when it is asked for, and whose answer counts. */
import type { ReactiveControllerHost } from 'lit';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ProposalList } from '../../../web/proposals/proposal-list.ts';

let isHidden = false;
let onSeen = (): void => {};
let answer: (path: string) => Promise<Response>;
let asked: string[] = [];
let renders = 0;

beforeEach(() => {
  vi.useFakeTimers();
  [isHidden, asked, renders] = [false, [], 0];
  vi.stubGlobal('document', {
    get hidden() {
      return isHidden;
    },
    addEventListener: (_: string, listener: () => void) => {
      onSeen = listener;
    },
    removeEventListener: () => {
      onSeen = () => {};
    },
  });
  answer = async () => Response.json([{ id: 'p' }]);
  vi.stubGlobal('fetch', (path: string) => {
    asked.push(path);
    return answer(path);
  });
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const host = { addController: () => {}, requestUpdate: () => renders++ } as unknown as ReactiveControllerHost;

/** A list on a page, of board `b`, that has had its first answer. */
async function openList(isSeldom = false): Promise<ProposalList> {
  const list = new ProposalList(host);
  list.hostConnected();
  list.of('b', isSeldom);
  await vi.advanceTimersByTimeAsync(0);
  return list;
}

describe('the list of proposals', () => {
  it('asks for nothing without a board, and at once for another', async () => {
    const list = new ProposalList(host);
    list.hostConnected();
    await vi.advanceTimersByTimeAsync(10_000);
    expect(asked).toEqual([]);
    list.of('b');
    list.of('b');
    await vi.advanceTimersByTimeAsync(0);
    expect(asked).toEqual(['/api/boards/b/proposals']);
    // That nothing is known of this board, and the answer.
    expect([list.proposals, renders]).toEqual([[{ id: 'p' }], 2]);
    list.of(null);
    expect(list.proposals).toBeNull();
  });

  it('[A32] asks again and again, and draws only what is new', async () => {
    await openList();
    await vi.advanceTimersByTimeAsync(20_000);
    expect([asked.length, renders]).toEqual([6, 2]);
    answer = async () => Response.json([{ id: 'p' }, { id: 'q' }]);
    await vi.advanceTimersByTimeAsync(4000);
    expect(renders).toBe(3);
  });

  it('asks a third as often where nobody waits for an answer, and never while nobody looks', async () => {
    await openList(true);
    await vi.advanceTimersByTimeAsync(24_000);
    expect(asked.length).toBe(3);
    isHidden = true;
    onSeen();
    await vi.advanceTimersByTimeAsync(60_000);
    expect(asked.length).toBe(3);
    isHidden = false;
    onSeen();
    expect(asked.length).toBe(4);
  });

  it('keeps what it has while the server is away, and says that it is', async () => {
    const list = await openList();
    answer = async () => {
      throw new TypeError('no network');
    };
    await vi.advanceTimersByTimeAsync(4000);
    expect([list.isAway, list.proposals, renders]).toEqual([true, [{ id: 'p' }], 3]);
    answer = async () => Response.json([{ id: 'p' }]);
    await vi.advanceTimersByTimeAsync(4000);
    expect([list.isAway, renders]).toEqual([false, 4]);
  });

  it('an answer for the board before, or for a page that was left, does not count', async () => {
    const late: ((response: Response) => void)[] = [];
    answer = () => new Promise((resolve) => late.push(resolve));
    const list = new ProposalList(host);
    list.hostConnected();
    list.of('a');
    list.of('b');
    late[1]!(Response.json([{ id: 'of b' }]));
    late[0]!(Response.json([{ id: 'of a' }]));
    await vi.advanceTimersByTimeAsync(0);
    expect(list.proposals).toEqual([{ id: 'of b' }]);
    const left = list.ask();
    list.hostDisconnected();
    late[2]!(Response.json([{ id: 'late' }]));
    await vi.advanceTimersByTimeAsync(0);
    await left;
    await vi.advanceTimersByTimeAsync(60_000);
    expect([list.proposals, asked.length]).toEqual([[{ id: 'of b' }], 3]);
  });
});
