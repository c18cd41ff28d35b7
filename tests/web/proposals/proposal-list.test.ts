/** The list of proposals: when it is asked for, and whose answer counts. */
import type { ReactiveControllerHost } from 'lit';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { ProposalList, type ProposalLine } from '../../../web/proposals/proposal-list.ts';

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

/** A line that a test has come about, break and bring news. */
class Line implements ProposalLine {
  isConnected = true;
  readonly changes = new Set<() => void>();
  readonly news = new Set<() => void>();

  subscribe(listener: () => void): () => void {
    this.changes.add(listener);
    return () => this.changes.delete(listener);
  }

  onProposals(listener: () => void): () => void {
    this.news.add(listener);
    return () => this.news.delete(listener);
  }

  set(isConnected: boolean): void {
    this.isConnected = isConnected;
    for (const listener of this.changes) listener();
  }

  tell(): void {
    for (const listener of this.news) listener();
  }
}

/** Lets answers come. */
const answered = (): Promise<unknown> => vi.advanceTimersByTimeAsync(0);

/** A list on a page, of board `b`, that has had its first answer. */
async function openList(line = new Line()): Promise<{ list: ProposalList; line: Line }> {
  const list = new ProposalList(host);
  list.hostConnected();
  list.of('b', line);
  await answered();
  return { list, line };
}

describe('the list of proposals', () => {
  it('asks for nothing without a board, and at once for another', async () => {
    const list = new ProposalList(host);
    const line = new Line();
    list.hostConnected();
    list.of(null, null);
    expect(asked).toEqual([]);
    list.of('b', line);
    list.of('b', line);
    await answered();
    expect(asked).toEqual(['/api/boards/b/proposals']);
    // That nothing is known of this board, and the answer.
    expect([list.proposals, renders]).toEqual([[{ id: 'p' }], 2]);
    list.of(null, null);
    expect(list.proposals).toBeNull();
    line.tell();
    expect(asked).toHaveLength(1);
  });

  it('[A37] asks when it is told that there is something new, draws only that, and asks by no timer', async () => {
    const { line } = await openList();
    expect(vi.getTimerCount()).toBe(0);
    await vi.advanceTimersByTimeAsync(24 * 60 * 60_000);
    expect([asked.length, renders]).toEqual([1, 2]);
    line.tell();
    await answered();
    expect([asked.length, renders]).toEqual([2, 2]);
    answer = async () => Response.json([{ id: 'p' }, { id: 'q' }]);
    line.tell();
    await answered();
    expect([asked.length, renders]).toEqual([3, 3]);
  });

  it('[A37] asks once after each joining, in case it missed what was told meanwhile', async () => {
    const line = new Line();
    line.isConnected = false;
    const { list } = await openList(line);
    for (let joined = 1; joined <= 2; joined += 1) {
      answer = async () => Response.json([{ id: `${joined}` }]);
      asked = [];
      line.set(true);
      // Whatever else becomes of the line.
      for (let i = 0; i < 3; i += 1) line.set(true);
      await answered();
      expect([asked.length, list.proposals]).toEqual([1, [{ id: `${joined}` }]]);
      line.set(false);
      await answered();
    }
  });

  it('while nobody looks it waits, and asks once when somebody does', async () => {
    const { line } = await openList();
    isHidden = true;
    onSeen();
    line.tell();
    line.set(false);
    line.set(true);
    line.tell();
    expect(asked).toHaveLength(1);
    isHidden = false;
    onSeen();
    expect(asked).toHaveLength(2);
    await answered();
    // There was nothing new.
    isHidden = true;
    onSeen();
    isHidden = false;
    onSeen();
    expect(asked).toHaveLength(2);
  });

  it('keeps what it has when the line breaks, and says whether the server is away', async () => {
    const { list, line } = await openList();
    answer = async () => {
      throw new TypeError('no network');
    };
    line.set(false);
    await answered();
    expect([list.isAway, list.proposals, renders]).toEqual([true, [{ id: 'p' }], 3]);
    answer = async () => Response.json([{ id: 'p' }]);
    line.set(true);
    await answered();
    expect([list.isAway, renders]).toEqual([false, 4]);
    // The server ended the line, and is there.
    line.set(false);
    await answered();
    expect([list.isAway, renders]).toEqual([false, 4]);
  });

  it('the same board on another line is asked for anew, and stays in sight until the answer', async () => {
    const { list, line } = await openList();
    const next = new Line();
    list.of('b', next);
    expect([asked.length, list.proposals]).toEqual([2, [{ id: 'p' }]]);
    line.tell();
    expect([asked.length, line.news.size, line.changes.size]).toEqual([2, 0, 0]);
    next.tell();
    expect(asked).toHaveLength(3);
    await answered();
  });

  it('an answer for the board before, or for a page that was left, does not count', async () => {
    const late: ((response: Response) => void)[] = [];
    answer = () => new Promise((resolve) => late.push(resolve));
    const list = new ProposalList(host);
    const line = new Line();
    list.hostConnected();
    list.of('a', line);
    list.of('b', line);
    late[1]!(Response.json([{ id: 'of b' }]));
    late[0]!(Response.json([{ id: 'of a' }]));
    await answered();
    expect(list.proposals).toEqual([{ id: 'of b' }]);
    const left = list.ask();
    list.hostDisconnected();
    late[2]!(Response.json([{ id: 'late' }]));
    await answered();
    await left;
    line.tell();
    line.set(false);
    expect([list.proposals, asked.length]).toEqual([[{ id: 'of b' }], 3]);
    // Back in the page it asks.
    list.hostConnected();
    expect(asked).toHaveLength(4);
  });
});
