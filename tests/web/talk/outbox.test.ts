import { describe, expect, it } from 'vitest';
import { Outbox, type Shelf, type Tried, triedAfter } from '../../../web/talk/outbox.ts';
import { MapShelf } from '../../support/map-shelf.ts';
import { until } from '../../support/until.ts';
import { waitingSend } from '../../support/waiting-send.ts';

function openOutbox(
  shelf: Shelf,
  post: (id: string) => Promise<Tried>,
): { outbox: Outbox; posted: string[] } {
  const posted: string[] = [];
  let clock = 0;
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
