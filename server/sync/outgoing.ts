/**
 * Bytes that wait for readers, of all sockets together and of each who pays for them: a person whom a link let in, or an address
 * for all others from there. Who asks for a document gets it when there is room; until then they wait their turn, and hold
 * nothing but what they asked with.
 *
 * Frames that many readers share count for each of them: how long one is shared is not known.
 */

export interface OutgoingLimits {
  /** Of all sockets together; half of it for those whom no link let in. */
  readonly queuedBytes: number;
  readonly queuedBytesPerPerson: number;
  /** Of all sockets from one address whom no link let in. */
  readonly queuedBytesPerAddress: number;
}

/** Who pays: a person, an address of those whom no link let in, or, where there are no links, an address of all. */
export type PayerKind = 'person' | 'strangers' | 'anybody';

/** What waits for the readers that one pays for. */
export interface Account {
  readonly key: string;
  readonly most: number;
  readonly mostInAll: number;
  bytes: number;
  sockets: number;
}

interface Waiter {
  readonly account: Account;
  readonly bytes: number;
  readonly call: () => void;
}

export class Outgoing {
  readonly #limits: OutgoingLimits;
  readonly #accounts = new Map<string, Account>();
  /** Those who wait for room, in the order in which they came. */
  readonly #waiters = new Set<Waiter>();
  #bytes = 0;
  #isServing = false;

  constructor(limits: OutgoingLimits) {
    this.#limits = limits;
  }

  /** Of all together. */
  get bytes(): number {
    return this.#bytes;
  }

  /** Whether somebody waits for room. */
  get isAwaited(): boolean {
    return this.#waiters.size > 0;
  }

  /** The account of one more socket; to be given back by {@link close}. */
  open(kind: PayerKind, payer: string): Account {
    const key = `${kind} ${payer}`;
    let account = this.#accounts.get(key);
    if (account === undefined) {
      const { queuedBytes, queuedBytesPerPerson, queuedBytesPerAddress } = this.#limits;
      const most =
        kind === 'person'
          ? queuedBytesPerPerson
          : kind === 'strangers'
            ? queuedBytesPerAddress
            : queuedBytes / 2;
      const mostInAll = kind === 'strangers' ? queuedBytes / 2 : queuedBytes;
      account = { key, most, mostInAll, bytes: 0, sockets: 0 };
      this.#accounts.set(key, account);
    }
    account.sockets += 1;
    return account;
  }

  /** Gives back the account of a socket that has ended, whose bytes were taken off before. */
  close(account: Account): void {
    account.sockets -= 1;
    if (account.sockets === 0) this.#accounts.delete(account.key);
  }

  /** Adds to what waits, or takes off it. */
  add(account: Account, bytes: number): void {
    account.bytes += bytes;
    this.#bytes += bytes;
    if (bytes < 0 && this.#waiters.size > 0) this.#serve();
  }

  /** Whether no more should wait for the readers of this account than does. */
  isFull(account: Account): boolean {
    return account.bytes > account.most || this.#bytes > account.mostInAll;
  }

  /** Whether so many bytes more may wait. What alone is more than allowed may, where nothing else waits. */
  hasRoomFor(account: Account, bytes: number): boolean {
    return (
      (account.bytes === 0 || account.bytes + bytes <= account.most) &&
      (this.#bytes === 0 || this.#bytes + bytes <= account.mostInAll)
    );
  }

  /** Calls once there is room for so many bytes, and whoever waited longer has been served where possible. @returns takes it back */
  whenRoomFor(account: Account, bytes: number, call: () => void): () => void {
    const waiter: Waiter = { account, bytes, call };
    this.#waiters.add(waiter);
    return () => this.#waiters.delete(waiter);
  }

  #serve(): void {
    // Whoever is served writes, and the system may take it at once: that comes back here.
    if (this.#isServing) return;
    this.#isServing = true;
    try {
      for (const waiter of this.#waiters) {
        if (!this.hasRoomFor(waiter.account, waiter.bytes)) continue;
        this.#waiters.delete(waiter);
        waiter.call();
      }
    } finally {
      this.#isServing = false;
    }
  }
}
