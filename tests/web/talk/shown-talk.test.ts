import { describe, expect, it } from 'vitest';
import { remarkIdOf } from '../../../engine/document/index.ts';
import { filtered, shownTalk } from '../../../web/talk/shown-talk.ts';
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
});
