/** Relays of several nodes in one process: the plain model that the Redis relay must agree with. For tests. */
import type { Relay, RelayMessage } from './relay.ts';

type Hear = (message: RelayMessage) => void;

/** Joins the relays made from it, as a Redis server does. */
export class MemoryRelayHub {
  readonly relays = new Set<MemoryRelay>();

  /** A relay for one more node. */
  node(): MemoryRelay {
    const relay = new MemoryRelay(this);
    this.relays.add(relay);
    return relay;
  }
}

class MemoryRelay implements Relay {
  readonly isShared = true;
  readonly #hub: MemoryRelayHub;
  readonly #rooms = new Map<string, Set<Hear>>();
  readonly #gapListeners = new Set<(room: string | null) => void>();
  #isUp = true;

  constructor(hub: MemoryRelayHub) {
    this.#hub = hub;
  }

  get isUp(): boolean {
    return this.#isUp;
  }

  async join(room: string, hear: Hear): Promise<() => void> {
    const hearing = this.#rooms.get(room) ?? new Set();
    this.#rooms.set(room, hearing);
    hearing.add(hear);
    return () => {
      hearing.delete(hear);
      if (hearing.size === 0 && this.#rooms.get(room) === hearing) this.#rooms.delete(room);
    };
  }

  send(room: string, message: RelayMessage): void {
    if (!this.#isUp) return;
    const copy = { kind: message.kind, bytes: message.bytes.slice() };
    for (const other of this.#hub.relays) if (other !== this) queueMicrotask(() => other.#hear(room, copy));
  }

  onGap(listener: (room: string | null) => void): void {
    this.#gapListeners.add(listener);
  }

  /** Cuts this node off, or joins it again, which it then announces as a gap. */
  setUp(isUp: boolean): void {
    const isBack = isUp && !this.#isUp;
    this.#isUp = isUp;
    if (isBack) for (const listener of this.#gapListeners) listener(null);
  }

  async close(): Promise<void> {
    this.#isUp = false;
    this.#rooms.clear();
    this.#hub.relays.delete(this);
  }

  #hear(room: string, message: RelayMessage): void {
    if (!this.#isUp) return;
    for (const hear of this.#rooms.get(room) ?? []) hear(message);
  }
}
