/** Several keychains of one colourway that were begun together: equal lengths are cut in one go. */
import { AS_BOARD, type Half } from '../../engine/index.ts';
import { t } from '../text/index.ts';
import { type Keychain, type KeychainShelf, marksOf } from './keychain-shelf.ts';

/** Keychains begun at once at most; more are begun in a second go. */
export const MOST_AT_ONCE = 12;

export interface BatchOrder {
  /** As it was typed. */
  readonly name: string;
  /** How many, as it was typed. */
  readonly many: number;
  /** How many are under way already. */
  readonly before: number;
  readonly colourway: string | null;
  readonly firstHalf: Half;
  readonly now: number;
  readonly newId: () => string;
}

/** New keychains, one at least: of several each has a number, and the first is the latest, to be gone on with. Rule N83. */
export function newBatch(order: BatchOrder): readonly Keychain[] {
  const { before, colourway, firstHalf, now, newId } = order;
  const many = Math.max(1, Math.min(MOST_AT_ONCE, Math.round(order.many) || 1));
  const ownName = (at: number): string => t('table.newName', { number: before + 1 + at });
  const typed = order.name.trim();
  const nameOf = (at: number): string => {
    if (typed === '' || typed === ownName(0)) return ownName(at);
    return many === 1 ? typed : t('table.several', { name: typed, number: at + 1 });
  };
  const batch = many > 1 ? newId() : '';
  return Array.from({ length: many }, (_, at) => ({
    id: newId(),
    name: nameOf(at),
    begunAt: now - at,
    colourway,
    stage: 'cut',
    method: 'rows',
    size: 'knot',
    firstHalf,
    view: firstHalf === 'right' ? 'from-right' : 'same',
    batch,
    isMiddle: false,
    isCompared: false,
    cut: [],
    mounted: 0,
    finished: [],
    tied: new Set(),
    declined: '',
    own: AS_BOARD,
    marks: [],
  }));
}

/** The others of a batch for which a cord that is cut now counts too: nothing hangs yet, and their cords are the same. Rule N83. */
export function cutTogether(shelf: KeychainShelf, keychain: Keychain): readonly Keychain[] {
  if (keychain.batch === '') return [];
  const marks = marksIn(shelf, keychain);
  return shelf
    .all()
    .filter(
      (other) =>
        other.batch === keychain.batch &&
        other.id !== keychain.id &&
        other.mounted === 0 &&
        other.tied.size === 0 &&
        marksIn(shelf, other) === marks,
    );
}

function marksIn(shelf: KeychainShelf, { id }: Keychain): string | null {
  const board = shelf.boardOf(id);
  return board === null ? null : marksOf(board);
}

/** Keeps what is cut for all of them. @returns whether there was room */
export function keepCut(shelf: KeychainShelf, others: readonly Keychain[], cut: readonly number[]): boolean {
  return others.every((other) => shelf.keep({ ...other, cut }));
}
