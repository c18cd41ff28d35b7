/** What the page of a board hands to everything on it and what lives as long as the board is open. */
import type { Lit, PanelsBeside, Pointed } from '../board/index.ts';
import type { Context, Subject } from '../context/index.ts';
import type { BoardSession, Standing } from '../sync/index.ts';
import type { TalkDesk } from './talk-desk.ts';

export interface PageHandles {
  readonly session: BoardSession;
  /** Who one is here; null where the server keeps no links, undefined while it cannot be asked. */
  readonly standing: Standing | null | undefined;
  /** Whether it is a demo board: what is edited on it becomes a copy. */
  readonly isDemo: boolean;
  /** Whether this person may take the whole board along, and delete it. */
  readonly isOwner: boolean;
  /** The talk; null until it is open. */
  readonly talk: TalkDesk | null;
  readonly panels: PanelsBeside;
  /** What is lit on the board; null = nothing. It changes with the pointer: to subscribe to, not to render. */
  readonly lit: Subject<Lit | null>;
  /** What is pointed at on the board; null = nothing. As `lit`. */
  readonly pointed: Subject<Pointed | null>;
}

/** Changes when a board is opened, or its talk. */
export const pageHandles: Context<PageHandles | null> = { none: null };
