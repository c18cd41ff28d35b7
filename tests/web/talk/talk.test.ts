/** The talk in the page, without a screen: outbox, what was looked at, names, what is shown. */
import { describe, expect, it } from 'vitest';
import { remarkIdOf, type Thread } from '../../../engine/document/index.ts';
import { namedIn, namingAt, peopleNamed, piecesOf, withName } from '../../../web/talk/mention.ts';
import { Outbox, type Shelf, type Tried, triedAfter } from '../../../web/talk/outbox.ts';
import { Seen } from '../../../web/talk/seen.ts';
import { filtered, shownTalk } from '../../../web/talk/shown-talk.ts';
import { until } from '../../support/until.ts';

class MapShelf implements Shelf {
  readonly kept = new Map<string, string>();
  isFull = false;

  get length(): number {
    return this.kept.size;
  }
  key(index: number): string | null {
    return [...this.kept.keys()][index] ?? null;
  }
  getItem(key: string): string | null {
    return this.kept.get(key) ?? null;
  }
  setItem(key: string, value: string): void {
    if (this.isFull) throw new Error('full');
    this.kept.set(key, value);
  }
  removeItem(key: string): void {
    this.kept.delete(key);
  }
}

const me = { id: 'me', name: 'Mara', hex: '#336699' };
const ida = { id: 'ida', name: 'Ida Finch', hex: '#993366' };
const board = { kind: 'board' } as const;
const send = (n: number, text = `say ${n}`) => ({
  id: String(n).padStart(16, '0'),
  by: me,
  command: { kind: 'open-thread', pin: board, text } as const,
});

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
    first.outbox.add(send(2));
    first.outbox.add(send(1));
    await until('something is sent', () => first.posted.length > 0);
    first.outbox.dispose();
    shelf.kept.set('larkboard.outbox.b.junk', '{"send":');
    shelf.kept.set('larkboard.outbox.b.more', '{"send":{"id":"x"},"at":1}');
    shelf.kept.set('larkboard.outbox.other.1', '{}');
    const second = openOutbox(shelf, post);
    expect(second.outbox.items.map(({ send: one }) => one)).toEqual([send(2), send(1)]);
    isDown = false;
    second.outbox.retry();
    await until('all is sent', () => second.outbox.items.length === 0);
    expect(second.posted).toEqual([send(2).id, send(1).id]);
  });

  it('[G5] what is refused stays with its reason, and does not hold up what follows', async () => {
    const { outbox } = openOutbox(new MapShelf(), async (id) =>
      id === send(1).id ? { refused: 'no such thread' } : 'done',
    );
    outbox.add(send(1));
    outbox.add(send(2));
    await until('the second is sent', () => outbox.items.length === 1);
    expect(outbox.items[0]).toMatchObject({ refused: 'no such thread' });
    expect(outbox.takeBack(send(1).id)?.send).toEqual(send(1));
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
    outbox.add(send(1));
    expect(outbox.isOnItsWay(send(1).id)).toBe(true);
    expect(outbox.takeBack(send(1).id)).toBeNull();
    shelf.isFull = true;
    expect(() => outbox.add(send(2))).toThrow('full');
    expect(outbox.items).toHaveLength(1);
    answer('done');
    await until('it is sent', () => outbox.items.length === 0);
  });
});

const thread = (
  id: string,
  ...said: readonly (readonly [string, string | null, (readonly string[])?])[]
): Thread => ({
  id,
  pin: board,
  done: null,
  remarks: said.map(([by, text, mentions = []], i) => ({
    id: `${id}${i}`,
    by: { id: by, name: by, hex: '#000000' },
    at: i,
    text,
    mentions,
  })),
});

describe('what was looked at', () => {
  it('[G3] others’ remarks are new until looked at, also after a reload; one’s own and those taken back never', () => {
    const shelf = new MapShelf();
    const talk = thread('t', ['ida', 'a'], ['me', 'b'], ['ida', null], ['ida', 'c']);
    const seen = new Seen(shelf, 'b', 'me');
    expect(seen.unreadIn(talk).map(({ text }) => text)).toEqual(['a', 'c']);
    expect(seen.note('t', 2)).toBe(true);
    expect(seen.note('t', 1)).toBe(false);
    expect(new Seen(shelf, 'b', 'me').unreadIn(talk).map(({ text }) => text)).toEqual(['c']);
    expect(new Seen(shelf, 'b', 'ida').unreadIn(talk).map(({ text }) => text)).toEqual(['b']);
    for (const junk of ['{', '5', '{"t":"x"}']) {
      shelf.kept.set('larkboard.seen.b.me', junk);
      expect(new Seen(shelf, 'b', 'me').unreadIn(talk)).toHaveLength(2);
    }
  });
});

describe('names', () => {
  it('[G4] are offered behind an @ that begins a word, and put in its place', () => {
    expect(namingAt('a@b', 3)).toBeNull();
    expect(namingAt('ask @fi now', 7)).toEqual({ from: 4, typed: 'fi' });
    expect(peopleNamed([me, ida], 'fi', 6)).toEqual([ida]);
    expect(peopleNamed([me, ida], '', 6)).toEqual([me, ida]);
    expect(withName('ask @fi now', { from: 4, typed: 'fi' }, ida.name)).toEqual({
      text: 'ask @Ida Finch now',
      caret: 15,
    });
    expect(namedIn('ask @Ida Finch now', [me, ida])).toEqual(['ida']);
    expect(piecesOf('@Ida Finch, @Ida', ['Ida', 'Ida Finch']).filter(({ isName }) => isName)).toEqual([
      { text: '@Ida Finch', isName: true },
      { text: '@Ida', isName: true },
    ]);
  });
});

describe('what is shown', () => {
  const waiting = (n: number, command: object) =>
    ({ send: { ...send(n), command }, at: 100 + n, refused: null }) as never;

  it('[G5] [G6] what waits lies over what the server has, and nothing stands there twice', () => {
    const talk = [thread('t', ['me', 'a'], ['ida', 'b'])];
    const shown = shownTalk(talk, [
      waiting(1, { kind: 'change-remark', thread: 't', remark: 't0', text: 'A' }),
      waiting(2, { kind: 'answer', thread: 't', text: 'c' }),
      waiting(3, { kind: 'set-done', thread: 't', done: true }),
      waiting(4, { kind: 'open-thread', pin: board, text: 'd' }),
    ]);
    expect(shown.map(({ remarks }) => remarks.map(({ text }) => text))).toEqual([['A', 'b', 'c'], ['d']]);
    expect(shown[0]).toMatchObject({ isSent: true, done: { by: me } });
    expect(shown[1]).toMatchObject({ isSent: false });
    // Its answer was lost: the server has it already.
    const has = { ...thread('x', ['me', 'd']), id: remarkIdOf('me', send(4).id) };
    expect(shownTalk([has], [waiting(4, { kind: 'open-thread', pin: board, text: 'd' })])).toHaveLength(1);
  });

  it('[G4] the filters: open, done, and where one spoke or was spoken to; unsent always, the latest first', () => {
    const talk = shownTalk(
      [
        thread('a', ['ida', 'x']),
        thread('b', ['ida', 'x', ['me']], ['ida', 'y']),
        { ...thread('c', ['me', 'x']), done: { by: me, at: 1 } },
      ],
      [waiting(4, { kind: 'open-thread', pin: board, text: 'd' })],
    );
    const ids = (filter: 'open' | 'done' | 'me') =>
      filtered(talk, filter, 'me')
        .filter(({ isSent }) => isSent)
        .map(({ id }) => id);
    expect([ids('open'), ids('done'), ids('me')]).toEqual([['b', 'a'], ['c'], ['b', 'c']]);
    for (const filter of ['open', 'done', 'me'] as const)
      expect(filtered(talk, filter, 'me')[0]!.isSent).toBe(false);
  });
});
