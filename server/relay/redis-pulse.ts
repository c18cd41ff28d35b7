/**
 * Notices a line to Redis on which nothing comes back although nobody closed it: a cut cable, a machine that froze. Left to
 * itself TCP says so after many minutes, and until then all that is sent is kept for the line.
 */
import type { Redis } from 'ioredis';
import { unattended } from '../unattended.ts';

/** How often a line is asked. */
export const PULSE_MS = 1_000;
/** After so many questions without an answer it is given up. Questions are counted, since a process that was busy hears late of all. */
const UNANSWERED = 5;

export class RedisPulse {
  readonly #client: Redis;
  #unanswered = 0;

  constructor(client: Redis) {
    this.#client = client;
  }

  /** Asks once more, or cuts a line that did not answer; its client then connects anew. To be called every {@link PULSE_MS}. */
  beat(): void {
    const { status } = this.#client;
    // Connecting has a time limit of its own; being greeted on the new line has none.
    if (status !== 'ready' && status !== 'connect') {
      this.#unanswered = 0;
      return;
    }
    if (this.#unanswered === UNANSWERED) {
      this.cut(`no answer in ${(UNANSWERED * PULSE_MS) / 1000} s`);
      return;
    }
    this.#unanswered += 1;
    if (status === 'connect' || this.#unanswered > 1) return;
    // A question that fails says that the line is gone, as the client does itself.
    unattended({ broke: () => {} }, 'ping', async () => {
      await this.#client.ping();
      this.#unanswered = 0;
    });
  }

  /** Ends the line without waiting for the other side. */
  cut(why: string): void {
    this.#unanswered = 0;
    this.#client.stream.destroy(new Error(why));
  }
}
