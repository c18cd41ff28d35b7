/** What the sign in the header says of a board: whether what was edited is on the server's disk, and whether the line stands. */
import type { CloseReason } from '../../engine/document/index.ts';
import type { BoardSession, SavedState } from '../sync/index.ts';
import type { TextKey } from '../text/index.ts';

/** What the sign in the header says: `viewing` where nothing here is to be saved, `away` where that is of a while ago. */
export type Sign = SavedState | 'viewing' | 'away' | 'coming';

/** Reasons after which the line comes back by itself. */
const PASSING: ReadonlySet<CloseReason> = new Set(['tooFast', 'tooSlow', 'busy', 'storeFailed', 'restarted']);

/** Whether the line comes back by itself after this. */
export function isPassing(reason: CloseReason): boolean {
  return PASSING.has(reason);
}

/** In a word what more is to be said of; nothing where the word is all. */
const BRIEF = {
  offline: 'saved.brief.offline',
  away: 'saved.brief.offline',
  'read-only': 'saved.brief.notStored',
  damaged: 'saved.brief.notStored',
  'write-limit': 'saved.brief.notStored',
  unkept: 'saved.brief.notStored',
} as const satisfies Partial<Record<Sign, TextKey>>;

/** The word that a sentence is told by; null where the sentence is all. */
export function briefOf(sign: Sign): TextKey | null {
  return sign in BRIEF ? BRIEF[sign as keyof typeof BRIEF] : null;
}

/** What is to be said of a board that is open. */
export function signOf(session: BoardSession): Sign {
  const { closeReason, isComing, isConnected } = session;
  if (session.isSketch || closeReason === 'deleted') return 'viewing';
  if (isComing) return 'coming';
  if (session.keepsEdits) return session.saved;
  return isConnected ? 'viewing' : 'away';
}
