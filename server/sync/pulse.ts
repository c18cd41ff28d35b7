/** Whether the other side of a socket is still there, by what is heard of it and by pings. */
import type { WebSocket } from 'ws';
import { KEEP_ALIVE_TICKS, PING_MS, PROBE_MS, SILENCE_MS } from './connection-times.ts';

export class Pulse {
  readonly #socket: Pick<WebSocket, 'ping'>;
  #heardAt: number;
  #pingedAt: number | null = null;
  /** Ticks since something was said; asking for the time with every frame would cost more. */
  #quietTicks = 0;

  constructor(now: number, socket: Pick<WebSocket, 'ping'>) {
    this.#heardAt = now;
    this.#socket = socket;
  }

  heard(now: number): void {
    this.#heardAt = now;
  }

  ponged(now: number): void {
    this.#pingedAt = null;
    this.#heardAt = now;
  }

  /** The clock was set back to this time. */
  noteSetBack(now: number): void {
    this.#heardAt = Math.min(this.#heardAt, now);
    if (this.#pingedAt !== null) this.#pingedAt = Math.min(this.#pingedAt, now);
  }

  /** Something was said to the client. */
  said(): void {
    this.#quietTicks = 0;
  }

  /** Asks whether the client is there. @returns false when it did not answer the last time */
  probe(now: number): boolean {
    if (this.#pingedAt !== null) return now - this.#pingedAt <= PROBE_MS;
    this.#pingedAt = now;
    this.#socket.ping();
    return true;
  }

  /** Called every few seconds. @param isHeld whether the client is not read from, and so cannot be heard @returns false when it is gone */
  tick(now: number, isHeld: boolean): boolean {
    if (isHeld) this.#pingedAt = null;
    else if (this.#pingedAt !== null) {
      if (now - this.#pingedAt > PING_MS) return false;
    } else if (now - this.#heardAt > SILENCE_MS) this.probe(now);
    this.#quietTicks += 1;
    return true;
  }

  /** Whether nothing was said for so long that the client would wonder. */
  get isQuiet(): boolean {
    return this.#quietTicks >= KEEP_ALIVE_TICKS;
  }
}
