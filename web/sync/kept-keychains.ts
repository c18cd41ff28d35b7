/** Keychains under way that this browser keeps of a board, as far as whoever forgets the board must know of them. */

type Kept = Pick<Storage, 'key' | 'length' | 'removeItem'>;

/** What the keys of a board's keychains begin with; that of one is followed by its id. */
export function keychainKeys(boardId: string): string {
  return `larkboard.table.${boardId}.`;
}

/** What the key of a keychain's board ends with. */
export const KEYCHAIN_BOARD = '.board';

/** How many keychains of a board are under way. */
export function countKeychains(boardId: string, kept: Kept = localStorage): number {
  const start = keychainKeys(boardId).length;
  return keysOf(boardId, kept).filter((key) => !key.includes('.', start)).length;
}

/** Forgets all of them. Rule N86. */
export function forgetKeychains(boardId: string, kept: Kept = localStorage): void {
  for (const key of keysOf(boardId, kept)) kept.removeItem(key);
}

function keysOf(boardId: string, kept: Kept): readonly string[] {
  return Array.from({ length: kept.length }, (_, at) => kept.key(at)).filter(
    (key): key is string => key?.startsWith(keychainKeys(boardId)) === true,
  );
}
