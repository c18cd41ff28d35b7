/** The proposals of a board, kept up to date by asking: often enough to be live, seldom enough to be nothing. */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { ApiError, fetchProposals, type Proposal } from '../sync/index.ts';

/** Ticks at which it is asked: for whoever waits for an answer, and for whoever only has to hear of it some time. */
const TICK_MS = 4_000;
const SELDOM_TICKS = 3;

/** Asks while its element is on a page that somebody looks at. */
export class ProposalList implements ReactiveController {
  /** Null until the server has answered, or where it keeps none. */
  proposals: readonly Proposal[] | null = null;
  /** Whether the last asking failed. */
  isAway = false;
  readonly #host: ReactiveControllerHost;
  readonly #onChange: () => void;
  #board: string | null = null;
  #timer: ReturnType<typeof setInterval> | undefined;
  #asking = 0;
  #isSeldom = false;
  #ticks = 0;

  /** @param onChange called whenever they are others, before the element is rendered */
  constructor(host: ReactiveControllerHost, onChange: () => void = () => {}) {
    this.#host = host;
    this.#onChange = onChange;
    host.addController(this);
  }

  hostConnected(): void {
    this.#timer = setInterval(() => this.#tick(), TICK_MS);
    document.addEventListener('visibilitychange', this.#onSeen);
    void this.ask();
  }

  hostDisconnected(): void {
    clearInterval(this.#timer);
    document.removeEventListener('visibilitychange', this.#onSeen);
    this.#asking++;
  }

  /** The board to ask for; null = none. Asks at once when it is another. `isSeldom`: a third as often. */
  of(board: string | null, isSeldom = false): void {
    this.#isSeldom = isSeldom;
    if (board === this.#board) return;
    this.#board = board;
    this.proposals = null;
    this.#changed();
    void this.ask();
  }

  /** Asks now. Never rejects for want of the server. */
  async ask(): Promise<void> {
    const board = this.#board;
    const asking = ++this.#asking;
    if (board === null) return;
    try {
      const found = await fetchProposals(board);
      if (asking !== this.#asking) return;
      const isSame = JSON.stringify(found) === JSON.stringify(this.proposals);
      if (isSame && !this.isAway) return;
      this.proposals = found;
      this.isAway = false;
    } catch (error) {
      if (!(error instanceof ApiError)) throw error;
      if (asking !== this.#asking) return;
      this.isAway = true;
    }
    this.#changed();
  }

  #changed(): void {
    this.#onChange();
    this.#host.requestUpdate();
  }

  readonly #onSeen = (): void => {
    if (!document.hidden) void this.ask();
  };

  #tick(): void {
    this.#ticks++;
    if (!document.hidden && !(this.#isSeldom && this.#ticks % SELDOM_TICKS !== 0)) void this.ask();
  }
}
