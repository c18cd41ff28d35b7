/**
 * Tells of changed proposals: of each board at once, and then once a second at most. Everybody who is told asks what they are, and that
 * counts as their own asking; so whoever changes proposals over and over must not make them ask as often.
 */
import type { Clock } from '../clock.ts';
import { type Answerable, unattended } from '../unattended.ts';

const PACE_MS = 1_000;

interface Told {
  /** Takes back the end of the pause. */
  readonly forget: () => void;
  /** Whether there is something new since. */
  isDue: boolean;
}

export class ProposalNews {
  readonly #clock: Clock;
  readonly #owner: Answerable;
  readonly #tell: (board: string) => void;
  /** Boards that were told of within the last second. */
  readonly #told = new Map<string, Told>();
  #isOver = false;

  /** @param tell tells everybody on this node who wants to hear of a board */
  constructor(clock: Clock, owner: Answerable, tell: (board: string) => void) {
    this.#clock = clock;
    this.#owner = owner;
    this.#tell = tell;
  }

  /** The proposals of a board are others now. */
  changed(board: string): void {
    if (this.#isOver) return;
    const told = this.#told.get(board);
    if (told !== undefined) {
      told.isDue = true;
      return;
    }
    const forget = this.#clock.after(PACE_MS, () => this.#pauseIsOver(board));
    this.#told.set(board, { forget, isDue: false });
    unattended(this.#owner, 'proposals', () => this.#tell(board));
  }

  /** Tells nothing more. */
  end(): void {
    this.#isOver = true;
    for (const { forget } of this.#told.values()) forget();
    this.#told.clear();
  }

  #pauseIsOver(board: string): void {
    const isDue = this.#told.get(board)?.isDue === true;
    this.#told.delete(board);
    if (isDue) this.changed(board);
  }
}
