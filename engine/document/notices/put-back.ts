/** Putting back what others changed of somebody's work. */
import type * as Y from 'yjs';
import type { Command } from '../command.ts';
import { type Edit, foldChanges, type KeyChange, NOTHING_HELD, takeBack } from '../journal/index.ts';
import { takeBackCommand } from '../take-back-visit.ts';
import type { Lost } from './own-work.ts';

/** What would be done, and what would stay. */
interface PutBack {
  /** One step of undo; null when nothing of it can be put back. */
  readonly command: Command | null;
  /** Things that stay, since somebody changed them after, or since the whole board was replaced. */
  readonly kept: number;
}

/** What would bring these things back now. Writes nothing. Rule D336. */
export function putBack(lost: readonly Lost[], doc: Y.Doc): PutBack {
  const single = lost.filter(({ isWhole }) => !isWhole);
  const edit: Edit = {
    changes: foldChanges([...new Set(single.map(({ change }) => change))]),
    held: NOTHING_HELD,
  };
  const { writes, kept } = takeBack(edit, doc);
  const stay = new Set(kept.map(nameOf));
  const staying = lost.filter(({ isWhole, change }) => isWhole || stay.has(nameOf(change)));
  return {
    command: writes.length === 0 ? null : takeBackCommand(edit),
    kept: new Set(staying.map(({ thing }) => thing)).size,
  };
}

function nameOf({ root, key }: KeyChange): string {
  return `${root} ${key}`;
}
