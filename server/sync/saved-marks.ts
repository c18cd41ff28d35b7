/** Marks of one socket: each is answered once all that was read before it is on the disk. */
import type { CloseReason } from '../../engine/document/index.ts';
import { unattended } from '../unattended.ts';
import type { ConnectionOptions } from './connection-options.ts';
import { MOST_MARKS_WAITING } from './connection-times.ts';
import { frameOf } from './messages.ts';
import type { Room } from './room.ts';

/** The socket. */
export interface MarksLine {
  readonly room: Room;
  send(frame: Buffer): void;
  close(reason: CloseReason, message: string): void;
}

export class SavedMarks {
  readonly #line: MarksLine;
  readonly #options: Pick<ConnectionOptions, 'metrics' | 'now'>;
  /** Those that wait for the disk. */
  #waiting = 0;
  /** Whether any are to be answered at the end of this turn, and the last of them. */
  #isDue = false;
  #due = 0;
  /** The last that waits for edits which were passed over. */
  #held: number | null = null;

  constructor(line: MarksLine, options: Pick<ConnectionOptions, 'metrics' | 'now'>) {
    this.#line = line;
    this.#options = options;
  }

  /** Keeps a mark until what it speaks of has been taken. */
  hold(mark: number): void {
    this.#held = mark;
  }

  /** @returns the mark that is held, which is not any more; null when none is */
  release(): number | null {
    const held = this.#held;
    this.#held = null;
    return held;
  }

  /** Answers a mark once all up to here is on the disk. */
  promise(mark: number): void {
    const { room } = this.#line;
    const { now, metrics } = this.#options;
    const began = now();
    this.#waiting += 1;
    if (this.#waiting > MOST_MARKS_WAITING) {
      this.#line.close('tooFast', 'too many marks wait for the disk');
      return;
    }
    room.whenSaved(() => {
      this.#waiting -= 1;
      metrics.observe('larkboard_acknowledge_ms', 'From reading a mark to its answer.', now() - began);
      // One commit answers many marks; the last of them answers for all.
      if (!this.#isDue) queueMicrotask(() => unattended(room, 'marks', () => this.#answer()));
      this.#isDue = true;
      this.#due = mark;
    });
  }

  #answer(): void {
    this.#isDue = false;
    this.#line.send(frameOf({ kind: 'saved', mark: this.#due }));
  }
}
