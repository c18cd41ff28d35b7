/** The talk as it is shown: what the server has, with what waits laid over it. */
import { describe, expect, it } from 'vitest';
import { remarkIdOf } from '../../../engine/document/index.ts';
import { filtered, shownTalk, speakersIn } from '../../../web/talk/shown-talk.ts';
import { thread } from '../../support/thread.ts';
import { MARA, ON_BOARD, waitingSend } from '../../support/waiting-send.ts';

describe('what is shown', () => {
  const waiting = (n: number, command: object) =>
    ({ send: { ...waitingSend(n), command }, at: 100 + n, refused: null }) as never;

  it('[G5] [G6] what waits lies over what the server has, and nothing stands there twice', () => {
    const talk = [thread('t', ['me', 'a'], ['ida', 'b'])];
    const shown = shownTalk(talk, [
      waiting(1, { kind: 'change-remark', thread: 't', remark: 't0', text: 'A' }),
      waiting(2, { kind: 'answer', thread: 't', text: 'c' }),
      waiting(3, { kind: 'set-done', thread: 't', done: true }),
      waiting(4, { kind: 'open-thread', pin: ON_BOARD, text: 'd' }),
    ]);
    expect(shown.map(({ remarks }) => remarks.map(({ text }) => text))).toEqual([['A', 'b', 'c'], ['d']]);
    expect(shown[0]).toMatchObject({ isSent: true, done: { by: MARA } });
    expect(shown[1]).toMatchObject({ isSent: false });
    // Its answer was lost: the server has it already.
    const has = { ...thread('x', ['me', 'd']), id: remarkIdOf('me', waitingSend(4).id) };
    expect(shownTalk([has], [waiting(4, { kind: 'open-thread', pin: ON_BOARD, text: 'd' })])).toHaveLength(1);
  });

  it('[G4] the filters: open, done, and where one spoke or was spoken to; unsent always, the latest first', () => {
    const talk = shownTalk(
      [
        thread('a', ['ida', 'x']),
        thread('b', ['ida', 'x', ['me']], ['ida', 'y']),
        { ...thread('c', ['me', 'x']), done: { by: MARA, at: 1 } },
      ],
      [waiting(4, { kind: 'open-thread', pin: ON_BOARD, text: 'd' })],
    );
    const ids = (filter: 'open' | 'done' | 'me') =>
      filtered(talk, filter, 'me')
        .filter(({ isSent }) => isSent)
        .map(({ id }) => id);
    expect([ids('open'), ids('done'), ids('me')]).toEqual([['b', 'a'], ['c'], ['b', 'c']]);
    for (const filter of ['open', 'done', 'me'] as const)
      expect(filtered(talk, filter, 'me')[0]!.isSent).toBe(false);
  });

  it('[G5] an answer that is there already, because only the server’s word of it was lost, stands there once', () => {
    const own = remarkIdOf('me', waitingSend(2).id);
    const said = thread('t', ['ida', 'a'], ['me', 'b']);
    const has = { ...said, remarks: [said.remarks[0]!, { ...said.remarks[1]!, id: own }] };
    const [shown] = shownTalk([has], [waiting(2, { kind: 'answer', thread: 't', text: 'b' })]);
    expect(shown!.remarks.map(({ id, waiting: item }) => [id, item])).toEqual([
      ['t0', null],
      [own, null],
    ]);
  });

  it('[G6] what one takes back is gone at once, with what it will be sent by; what is not there stays away', () => {
    const talk = [thread('t', ['me', 'a'], ['ida', 'b'])];
    const item = waiting(1, { kind: 'take-back-remark', thread: 't', remark: 't0' });
    const [shown] = shownTalk(talk, [
      item,
      waiting(2, { kind: 'change-remark', thread: 't', remark: 'gone', text: 'x' }),
      waiting(3, { kind: 'answer', thread: 'elsewhere', text: 'x' }),
    ]);
    expect(shown!.remarks.map(({ text, waiting: own }) => [text, own])).toEqual([
      [null, item],
      ['b', null],
    ]);
    expect(shown!.waiting).toBeNull();
  });

  it('[G4] [G6] whom a changed remark speaks to is what the change says, and a thread is open again at once', () => {
    const done = { ...thread('t', ['me', 'a', ['ida']]), done: { by: MARA, at: 1 } };
    const changes = [
      waiting(1, { kind: 'change-remark', thread: 't', remark: 't0', text: 'A' }),
      waiting(2, { kind: 'set-done', thread: 't', done: false }),
    ];
    const [shown] = shownTalk([done], changes);
    expect([shown!.remarks[0]!.mentions, shown!.done, shown!.waiting]).toEqual([[], null, changes[1]]);
    const [named] = shownTalk(
      [done],
      [waiting(1, { kind: 'change-remark', thread: 't', remark: 't0', text: 'A', mentions: ['ada'] })],
    );
    expect([named!.remarks[0]!.mentions, named!.done]).toEqual([['ada'], { by: MARA, at: 1 }]);
  });

  it('[G4] somebody is called as they called themselves last, whatever thread that was in', () => {
    const ida = { id: 'ida', name: 'I.', hex: '#000000' };
    const named = thread('b', ['ida', 'x']);
    const later = { ...named, remarks: [{ ...named.remarks[0]!, by: ida, at: 9 }] };
    for (const threads of [
      [thread('a', ['ida', 'x'], ['me', 'y']), later],
      [later, thread('a', ['ida', 'x'], ['me', 'y'])],
    ])
      expect(speakersIn(threads)).toEqual(
        new Map([
          ['ida', ida],
          ['me', { id: 'me', name: 'me', hex: '#000000' }],
        ]),
      );
  });
});
