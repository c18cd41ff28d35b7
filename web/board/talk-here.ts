/** What the board asks of the talk, and tells it. */
import type { EntryPlace } from '../../engine/document/index.ts';
import type { Spot } from './spot.ts';

/** The talk as the board sees it. */
export interface TalkHere {
  readonly canTalk: boolean;
  /** Remarks about a knot and its row, or about the string of a peg, in threads that are not done. */
  countAt(spot: Spot): number;
}

/** What one talks about: a knot with its two strings, or a string; strings by their place at the top. */
export type TalkSpot =
  | {
      readonly on: 'knot';
      readonly row: number;
      readonly k: number;
      readonly left: number;
      readonly right: number;
    }
  | { readonly on: 'peg'; readonly place: number }
  /** An entry of a panel beside the board. */
  | { readonly on: 'entry'; readonly panel: string; readonly at: EntryPlace };

/** Somebody wants to say something about a place of the board, or to read what is said about it. */
export class TalkHereEvent extends Event {
  readonly wants: 'say' | 'read';
  readonly spot: TalkSpot;

  constructor(wants: 'say' | 'read', spot: TalkSpot) {
    super('lb-talk-here', { bubbles: true, composed: true });
    this.wants = wants;
    this.spot = spot;
  }
}

/** Somebody wants to read a thread. */
export class TalkThreadEvent extends Event {
  readonly thread: string;

  constructor(thread: string) {
    super('lb-talk-thread', { bubbles: true, composed: true });
    this.thread = thread;
  }
}

declare global {
  interface HTMLElementEventMap {
    'lb-talk-thread': TalkThreadEvent;
    'lb-talk-here': TalkHereEvent;
  }
}
