/** The lessons that somebody on this node is in. One opens with the first socket and is forgotten with the last. */
import type { Clock } from '../clock.ts';
import type { Metrics } from '../metrics.ts';
import type { Relay } from '../relay/index.ts';
import type { BesideLine, BesideSeat } from '../sync/index.ts';
import { type Answerable, unattended } from '../unattended.ts';
import type { Lessons } from './lessons.ts';
import { LiveLesson, type LessonPeerMessage } from './live-lesson.ts';

export interface LiveLessonsDeps {
  readonly lessons: Lessons;
  readonly relay: Relay;
  readonly clock: Clock;
  readonly metrics: Metrics;
  readonly answerable: Answerable;
}

interface Entry {
  readonly live: LiveLesson;
  leaveRelay: (() => void) | null;
}

/** The channel of a lesson among nodes; no document has this name. */
function channelOf(id: string): string {
  return `${id}/said`;
}

export class LiveLessons {
  readonly #deps: LiveLessonsDeps;
  readonly #entries = new Map<string, Entry>();

  constructor(deps: LiveLessonsDeps) {
    this.#deps = deps;
  }

  /** Takes a socket in. */
  enter(id: string, line: BesideLine, person: string, isTeacher: boolean): BesideSeat {
    const entry = this.#entries.get(id) ?? this.#open(id);
    const { live } = entry;
    const seat = live.enter(line, person, isTeacher);
    return {
      hear: (text) => live.hear(seat, text),
      leave: () => {
        live.leave(seat);
        if (!live.isEmpty || this.#entries.get(id) !== entry) return;
        this.#entries.delete(id);
        entry.leaveRelay?.();
      },
    };
  }

  /** What is kept of a lesson is other now; null: of any. */
  reload(id: string | null): void {
    for (const [of, { live }] of this.#entries)
      if (id === null || id === of) unattended(this.#deps.answerable, 'lesson-reload', () => live.reload());
  }

  #open(id: string): Entry {
    const { lessons, relay, clock, metrics, answerable } = this.#deps;
    const live = new LiveLesson({
      clock,
      answerable,
      read: async () => {
        const lesson = await lessons.find(id);
        return lesson === null ? null : { lesson, learners: await lessons.learners(id) };
      },
      tell: (person, text, at) => lessons.tell(id, person, { at, text }),
      tellPeers: (message) =>
        relay.send(channelOf(id), { kind: 'lesson', bytes: Buffer.from(JSON.stringify(message)) }),
      refused: (reason) => metrics.count('larkboard_refused_total', 'Messages refused.', { reason }),
    });
    const entry: Entry = { live, leaveRelay: null };
    this.#entries.set(id, entry);
    unattended(answerable, 'lesson-open', async () => {
      const leave = await relay.join(channelOf(id), ({ kind, bytes }) => {
        if (kind === 'lesson') live.hearPeer(JSON.parse(Buffer.from(bytes).toString()) as LessonPeerMessage);
      });
      if (this.#entries.get(id) !== entry) return leave();
      entry.leaveRelay = leave;
      relay.send(channelOf(id), { kind: 'lesson', bytes: Buffer.from('{"k":"?"}') });
      await live.reload();
    });
    return entry;
  }
}
