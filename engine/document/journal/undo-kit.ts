/** What undo needs and tying does not, in one piece, so that a page can fetch it later. */
import { foldEdits } from './fold.ts';
import { isInSight, isOfScope } from './in-sight.ts';
import { takeBack } from './take-back.ts';
import { FormerWriters } from './former-writers.ts';

/** All that taking steps back takes. */
export const UNDO_KIT = { foldEdits, isInSight, isOfScope, takeBack, FormerWriters } as const;
/** What {@link UNDO_KIT} holds. */
export type UndoKit = typeof UNDO_KIT;
