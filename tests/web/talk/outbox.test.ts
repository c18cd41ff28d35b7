/** What was said and is not on the server yet: it is kept, goes out in order and once, and is tried again. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Outbox, type Shelf, type Tried, triedAfter } from '../../../web/talk/outbox.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { until } from '../../support/until.ts';
import { waitingSend } from '../../support/waiting-send.ts';

function openOutbox(
  shelf: Shelf,
  post: (id: string) => Promise<Tried>,
  clock = 0,
): { outbox: Outbox; posted: string[] } {
  const posted: string[] = [];
  const outbox = new Outbox({
    boardId: 'b',
    shelf,
    now: () => clock++,
    onChange: () => {},
    post: (one) => {
      posted.push(one.id);
      return post(one.id);
    },
  });
  return { outbox, posted };
}

describe('the outbox', () => {
  it('[G5] what the server cannot take now is tried again; what it will never take is refused', () => {
    for (const kind of [
      'unreachable',
      'too-fast',
      'too-much-written',
      'busy',
      'store-unavailable',
      'status-502',
    ])
      expect([kind, triedAfter(kind)]).toEqual([kind, 'later']);
    for (const kind of ['forbidden', 'too-long', 'too-much', 'unknown-board'])
      expect([kind, triedAfter(kind)]).toEqual([kind, { refused: kind }]);
  });

  it('[G5] sends in order, one at a time, keeps what cannot go, and reads it again after a reload', async () => {
    const shelf = new MapShelf();
    let isDown = true;
    const post = async (): Promise<Tried> => (isDown ? 'later' : 'done');
    const first = openOutbox(shelf, post);
    first.outbox.add(waitingSend(2));
    first.outbox.add(waitingSend(1));
    await until('something is sent', () => first.posted.length > 0);
    first.outbox.dispose();
    shelf.kept.set('larkboard.outbox.b.junk', '{"send":');
    shelf.kept.set('larkboard.outbox.b.more', '{"send":{"id":"x"},"at":1}');
    shelf.kept.set('larkboard.outbox.other.1', '{}');
    const second = openOutbox(shelf, post);
    expect(second.outbox.items.map(({ send: one }) => one)).toEqual([waitingSend(2), waitingSend(1)]);
    isDown = false;
    second.outbox.retry();
    await until('all is sent', () => second.outbox.items.length === 0);
    expect(second.posted).toEqual([waitingSend(2).id, waitingSend(1).id]);
  });

  it('[G5] what is refused stays with its reason, and does not hold up what follows', async () => {
    const { outbox } = openOutbox(new MapShelf(), async (id) =>
      id === waitingSend(1).id ? { refused: 'no such thread' } : 'done',
    );
    outbox.add(waitingSend(1));
    outbox.add(waitingSend(2));
    await until('the second is sent', () => outbox.items.length === 1);
    expect(outbox.items[0]).toMatchObject({ refused: 'no such thread' });
    expect(outbox.takeBack(waitingSend(1).id)?.send).toEqual(waitingSend(1));
    expect(outbox.items).toEqual([]);
  });

  it('[G5] what is on its way is not taken back; what finds no room is not said to be kept', async () => {
    let answer = (_tried: Tried): void => {};
    const shelf = new MapShelf();
    const { outbox } = openOutbox(
      shelf,
      () =>
        new Promise((resolve) => {
          answer = resolve;
        }),
    );
    outbox.add(waitingSend(1));
    expect(outbox.isOnItsWay(waitingSend(1).id)).toBe(true);
    expect(outbox.takeBack(waitingSend(1).id)).toBeNull();
    shelf.isFull = true;
    expect(() => outbox.add(waitingSend(2))).toThrow('full');
    expect(outbox.items).toHaveLength(1);
    answer('done');
    await until('it is sent', () => outbox.items.length === 0);
  });
});

describe('trying again', () => {
  afterEach(() => {
    vi.useRealTimers();
  });

  /** An outbox whose server answers as it is told, and how long it waited before each try. */
  function tried(answer: (id: string) => Tried) {
    vi.useFakeTimers();
    const waits: number[] = [];
    const now = (): number => vi.getMockedSystemTime()!.getTime();
    let last = now();
    const opened = openOutbox(new MapShelf(), async (id) => {
      waits.push((now() - last) / 1000);
      last = now();
      return answer(id);
    });
    return { ...opened, waits };
  }

  it('[G5] waits longer each time, a minute at most; what is said meanwhile, or asked for, is tried at once', async () => {
    const { outbox, waits } = tried(() => 'later');
    outbox.add(waitingSend(1));
    await vi.advanceTimersByTimeAsync(200_000);
    expect(waits).toEqual([0, 2, 4, 8, 16, 32, 60, 60]);
    outbox.retry();
    await vi.advanceTimersByTimeAsync(2_500);
    outbox.add(waitingSend(2));
    await vi.advanceTimersByTimeAsync(2_500);
    expect(waits.slice(8)).toEqual([18, 2, 0.5, 2]);
    outbox.dispose();
  });

  it('[G5] after a success it is patient anew', async () => {
    let there = '';
    const { outbox, waits } = tried((id) => (there.includes(id) ? 'done' : 'later'));
    outbox.add(waitingSend(1));
    outbox.add(waitingSend(2));
    await vi.advanceTimersByTimeAsync(7_000);
    there = waitingSend(1).id;
    await vi.advanceTimersByTimeAsync(7_000);
    // The first goes out, the second is tried at once and waits as at the beginning.
    await vi.advanceTimersByTimeAsync(2_000);
    expect(waits).toEqual([0, 2, 4, 8, 0, 2]);
    there += waitingSend(2).id;
    await vi.advanceTimersByTimeAsync(4_000);
    expect([waits.at(-1), outbox.items, vi.getTimerCount()]).toEqual([4, [], 0]);
  });

  it('[G5] once the page is left nothing is tried any more, also when the answer comes only then', async () => {
    let answer = (_tried: Tried): void => {};
    vi.useFakeTimers();
    const { outbox, posted } = openOutbox(
      new MapShelf(),
      () =>
        new Promise((resolve) => {
          answer = resolve;
        }),
    );
    outbox.add(waitingSend(1));
    outbox.dispose();
    answer('later');
    await vi.advanceTimersByTimeAsync(100_000);
    outbox.retry();
    await vi.advanceTimersByTimeAsync(100_000);
    expect([posted, outbox.items.length, vi.getTimerCount()]).toEqual([[waitingSend(1).id], 1, 0]);
  });

  it('[G5] what was refused is sent again when asked for, and what is under way is not sent twice', async () => {
    const answers: ((tried: Tried) => void)[] = [];
    const { outbox, posted } = openOutbox(
      new MapShelf(),
      () => new Promise((resolve) => void answers.push(resolve)),
    );
    outbox.add(waitingSend(1));
    outbox.retry();
    outbox.add(waitingSend(2));
    expect(posted).toEqual([waitingSend(1).id]);
    answers[0]!({ refused: 'full' });
    await until('the second goes out', () => posted.length === 2);
    answers[1]!('done');
    await until('the second is there', () => outbox.items.length === 1);
    outbox.retry();
    expect(outbox.items[0]!.refused).toBeNull();
    answers[2]!('done');
    await until('all is there', () => outbox.items.length === 0);
    expect(posted).toEqual([1, 2, 1].map((n) => waitingSend(n).id));
  });
});

describe('what tabs keep together', () => {
  it('[G5] what two of them said at once stands in one order in both', () => {
    const shelf = new MapShelf();
    const later = async (): Promise<Tried> => 'later';
    const [one, two] = [openOutbox(shelf, later, 5).outbox, openOutbox(shelf, later, 5).outbox];
    two.add(waitingSend(2));
    one.add(waitingSend(1));
    two.refresh();
    for (const { items } of [one, two])
      expect(items.map(({ send: { id } }) => id)).toEqual([waitingSend(1).id, waitingSend(2).id]);
    one.dispose();
    two.dispose();
  });

  it('[G5] what another one has just sent, or wrote in a way of its own, is no sending', () => {
    const shelf = new MapShelf();
    const key = (n: number): string => `larkboard.outbox.b.${n}`;
    const kept = (more: object): string => JSON.stringify({ send: waitingSend(3), at: 1, ...more });
    for (const [n, text] of ['null', '7', '[]', '{}', kept({ at: '1' }), kept({ refused: 5 })].entries())
      shelf.kept.set(key(n), text);
    shelf.kept.set(key(9), kept({}));
    class Sending extends MapShelf {
      override kept = shelf.kept;
      override getItem(asked: string): string | null {
        return asked === key(9) ? null : super.getItem(asked);
      }
    }
    const { outbox } = openOutbox(new Sending(), async () => 'done');
    expect(outbox.items).toEqual([{ send: waitingSend(3), at: 1, refused: null }]);
  });
});
