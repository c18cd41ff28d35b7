/** The lessons that somebody on a node is in: opened with the first socket, and forgotten with the last. */
import { describe, expect, it } from 'vitest';
import { LiveLessons, type LiveLessonsDeps } from '../../../server/lessons/live-lessons.ts';
import { Metrics } from '../../../server/metrics.ts';
import type { BesideLine } from '../../../server/sync/index.ts';
import { HandClock } from '../../support/hand-clock.ts';

/** A relay that answers to joining when it is told to. */
class SlowRelay {
  readonly joins: string[] = [];
  readonly heard = new Map<string, (message: { kind: string; bytes: Uint8Array }) => void>();
  readonly sent: string[] = [];
  let: () => void = () => {};
  join(channel: string, hear: (message: { kind: string; bytes: Uint8Array }) => void): Promise<() => void> {
    this.joins.push(`join ${channel}`);
    this.heard.set(channel, hear);
    return new Promise((resolve) => {
      this.let = () => resolve(() => void this.joins.push(`leave ${channel}`));
    });
  }
  send(channel: string, { bytes }: { bytes: Uint8Array }): void {
    this.sent.push(`${channel} ${Buffer.from(bytes).toString()}`);
  }
}

function node(lesson: object | null = { isLocked: false, state: 1 }) {
  const relay = new SlowRelay();
  const broken: unknown[] = [];
  const read: string[] = [];
  const lessons = {
    find: async (id: string) => {
      read.push(id);
      return lesson;
    },
    learners: async () => [],
  };
  const live = new LiveLessons({
    lessons,
    relay,
    clock: new HandClock(),
    metrics: new Metrics(),
    answerable: { broke: (what: string, cause: unknown) => broken.push([what, cause]) },
  } as unknown as LiveLessonsDeps);
  const line: BesideLine = { send: () => {}, sendPresence: () => {}, close: () => {} };
  const settled = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
  return { relay, broken, read, live, settled, enter: (id: string) => live.enter(id, line, 'pim', false) };
}

describe('lessons on a node', () => {
  it('open once, ask the other nodes who is there, and close with the last who leaves', async () => {
    const { relay, live, read, broken, settled, enter } = node();
    const [first, second] = [enter('x'), enter('x')];
    relay.let();
    await settled();
    expect([relay.joins, relay.sent, read]).toEqual([['join x/said'], ['x/said {"k":"?"}'], ['x']]);
    first.leave();
    expect(relay.joins).toHaveLength(1);
    second.leave();
    second.leave();
    expect(relay.joins).toEqual(['join x/said', 'leave x/said']);
    live.reload('x');
    expect([read, broken]).toEqual([['x'], []]);
  });

  it('left before the relay has joined, leave it once it has, and read nothing', async () => {
    const { relay, read, settled, enter } = node();
    enter('x').leave();
    relay.let();
    await settled();
    expect([relay.joins, relay.sent, read]).toEqual([['join x/said', 'leave x/said'], [], []]);
  });

  it('are read anew, one or all of them; one that is gone is no fault', async () => {
    const { relay, live, read, broken, settled, enter } = node(null);
    for (const id of ['x', 'y']) {
      enter(id);
      relay.let();
      await settled();
    }
    live.reload('y');
    live.reload(null);
    await settled();
    expect([read, broken]).toEqual([['x', 'y', 'y', 'x', 'y'], []]);
  });

  it('hear other nodes of their own kind alone', async () => {
    const { relay, broken, settled, enter } = node();
    enter('x');
    relay.let();
    await settled();
    const hear = relay.heard.get('x/said')!;
    hear({ kind: 'update', bytes: new Uint8Array([1]) });
    hear({ kind: 'lesson', bytes: Buffer.from('{"k":"?"}') });
    expect(broken).toEqual([]);
  });
});
