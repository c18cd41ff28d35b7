/** The talk as it is shown: what the server has, with what waits here to be sent laid over it. */
import { type Pin, type Remark, remarkIdOf, type Speaker, type Thread } from '../../engine/document/index.ts';
import type { Waiting } from './outbox.ts';

/** A remark on the screen; `waiting` is what of it is not sent yet. */
export interface ShownRemark extends Remark {
  readonly waiting: Waiting | null;
}

export interface ShownThread {
  readonly id: string;
  readonly pin: Pin;
  readonly remarks: readonly ShownRemark[];
  readonly done: Thread['done'];
  /** Its opening, or its being done, waits to be sent. */
  readonly waiting: Waiting | null;
  /** Whether the server knows it. */
  readonly isSent: boolean;
}

export type TalkFilter = 'open' | 'done' | 'me';

/** Lays what waits over the threads, in the order in which it was said. O(threads + remarks × waiting in their thread). */
export function shownTalk(threads: readonly Thread[], waiting: readonly Waiting[]): readonly ShownThread[] {
  const shown = threads.map((thread): ShownThread => {
    const own = waiting.filter(
      ({ send: { command } }) => 'thread' in command && command.thread === thread.id,
    );
    return {
      ...thread,
      remarks: thread.remarks.map((remark) => ({ ...remark, waiting: null })),
      waiting: null,
      isSent: true,
      ...(own.length > 0 ? overlaid(thread, own) : {}),
    };
  });
  const known = new Set(threads.map(({ id }) => id));
  for (const item of waiting) {
    const { command, by, id } = item.send;
    const thread = remarkIdOf(by.id, id);
    if (command.kind !== 'open-thread' || known.has(thread)) continue;
    const { text, mentions = [], pin } = command;
    const remark = { id: thread, by, at: item.at, text, mentions, waiting: item };
    shown.push({ id: thread, pin, remarks: [remark], done: null, waiting: item, isSent: false });
  }
  return shown;
}

function overlaid(
  thread: Thread,
  waiting: readonly Waiting[],
): Pick<ShownThread, 'remarks' | 'done' | 'waiting'> {
  const remarks: ShownRemark[] = thread.remarks.map((remark) => ({ ...remark, waiting: null }));
  let { done }: { done: Thread['done'] } = thread;
  let threadWaiting: Waiting | null = null;
  for (const item of waiting) {
    const { command, by, id } = item.send;
    if (command.kind === 'answer') {
      const own = remarkIdOf(by.id, id);
      // The answer was lost, the remark was not.
      if (remarks.some((remark) => remark.id === own)) continue;
      const { text, mentions = [] } = command;
      remarks.push({ id: own, by, at: item.at, text, mentions, waiting: item });
    } else if (command.kind === 'set-done') {
      done = command.done ? { by, at: item.at } : null;
      threadWaiting = item;
    } else if (command.kind === 'change-remark' || command.kind === 'take-back-remark') {
      const at = remarks.findIndex((remark) => remark.id === command.remark);
      const before = remarks[at];
      if (before === undefined) continue;
      remarks[at] =
        command.kind === 'change-remark'
          ? { ...before, text: command.text, mentions: command.mentions ?? [], waiting: item }
          : { ...before, text: null, waiting: item };
    }
  }
  return { remarks, done, waiting: threadWaiting };
}

/** Whether a thread speaks to somebody: it names them, or they spoke in it. */
function isAbout(thread: Pick<Thread, 'remarks'>, personId: string): boolean {
  return thread.remarks.some(
    ({ by, mentions, text }) => text !== null && (by.id === personId || mentions.includes(personId)),
  );
}

/** The threads that a filter shows, the latest first. */
export function filtered(
  threads: readonly ShownThread[],
  filter: TalkFilter,
  personId: string,
): readonly ShownThread[] {
  const kept = threads.filter((thread) => {
    // What is not sent is never out of sight.
    if (!thread.isSent) return true;
    if (filter === 'me') return isAbout(thread, personId);
    return (thread.done !== null) === (filter === 'done');
  });
  const latest = ({ remarks }: ShownThread): number => Math.max(...remarks.map(({ at }) => at));
  return kept.sort((a, b) => latest(b) - latest(a));
}

/** Everybody who has spoken, by id, as they last called themselves. */
export function speakersIn(threads: readonly Pick<Thread, 'remarks'>[]): ReadonlyMap<string, Speaker> {
  const latest = new Map<string, Remark>();
  for (const { remarks } of threads)
    for (const remark of remarks)
      if (remark.at >= (latest.get(remark.by.id)?.at ?? -1)) latest.set(remark.by.id, remark);
  return new Map([...latest].map(([id, { by }]) => [id, by]));
}
