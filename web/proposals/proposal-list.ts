/**
 * The proposals of a board. They are asked for when the element comes into the page, whenever the line to the server has come about or broken,
 * and when the server says there that they may be others. What was told while the line was down is in the answer to the question after it.
 */
import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { ApiError, type BoardSession, fetchProposals, type Proposal } from '../sync/index.ts';

/** The line of the page, that of the board or of one of its branches. */
export type ProposalLine = Pick<BoardSession, 'isConnected' | 'subscribe' | 'onProposals'>;

/** Asks while its element is on a page; while nobody looks at that it waits until somebody does. */
export class ProposalList implements ReactiveController {
  /** Null until the server has answered, or where it keeps none. */
  proposals: readonly Proposal[] | null = null;
  /** Whether the last asking failed. */
  isAway = false;
  readonly #host: ReactiveControllerHost;
  readonly #onChange: () => void;
  #board: string | null = null;
  #line: ProposalLine | null = null;
  #isInPage = false;
  #isLineUp = false;
  /** Whether there was reason to ask while nobody looked. */
  #isDue = false;
  #asking = 0;
  #stops: readonly (() => void)[] = [];

  /** @param onChange called whenever they are others, before the element is rendered */
  constructor(host: ReactiveControllerHost, onChange: () => void = () => {}) {
    this.#host = host;
    this.#onChange = onChange;
    host.addController(this);
  }

  hostConnected(): void {
    this.#isInPage = true;
    document.addEventListener('visibilitychange', this.#onSeen);
    this.#begin();
  }

  hostDisconnected(): void {
    this.#isInPage = false;
    document.removeEventListener('visibilitychange', this.#onSeen);
    this.#end();
    this.#asking++;
  }

  /** The board to ask for, null = none, and the line on which its news come. Asks at once when either is another. */
  of(board: string | null, line: ProposalLine | null): void {
    if (board === this.#board && line === this.#line) return;
    const isOther = board !== this.#board;
    this.#board = board;
    this.#line = line;
    if (isOther) {
      this.proposals = null;
      this.#asking++;
      this.#changed();
    }
    this.#begin();
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

  #begin(): void {
    this.#end();
    const line = this.#line;
    if (!this.#isInPage || line === null) return;
    this.#isLineUp = line.isConnected;
    this.#stops = [line.subscribe(() => this.#onLine(line)), line.onProposals(() => this.#askIfSeen())];
    this.#askIfSeen();
  }

  #end(): void {
    for (const stop of this.#stops) stop();
    this.#stops = [];
  }

  /** After it broke the answer says whether the server is there. */
  #onLine({ isConnected }: ProposalLine): void {
    if (isConnected === this.#isLineUp) return;
    this.#isLineUp = isConnected;
    this.#askIfSeen();
  }

  #askIfSeen(): void {
    this.#isDue = document.hidden;
    if (!this.#isDue) void this.ask();
  }

  readonly #onSeen = (): void => {
    if (this.#isDue) this.#askIfSeen();
  };

  #changed(): void {
    this.#onChange();
    this.#host.requestUpdate();
  }
}
