/** The proposals of a board as they stand in its archive: to be read, and to be made again. */
import * as Y from 'yjs';
import { compactDesign, copyTalk, readDesign, readTalk, type Thread } from '../../engine/document/index.ts';
import { formatBoard } from '../../engine/index.ts';
import { readProposal } from '../proposals/index.ts';
import type { KeptRecord } from '../store/index.ts';
import { withDocument } from '../work/index.ts';
import { MAX_READABLE_BYTES, PROPOSED } from './archive-format.ts';

/** A proposal with what its branch holds, as updates. */
export interface PackedBranch {
  readonly record: KeptRecord;
  readonly design: readonly Uint8Array[];
  readonly talk: readonly Uint8Array[];
}

/** What stands of a proposal in the part that is there to be read. */
interface ReadableProposal {
  readonly title: string;
  /** What its maker called themselves. */
  readonly name: string;
  readonly state: string;
  readonly word: string;
  readonly isPart: boolean;
  /** ISO 8601, UTC; null where it has not come to that. */
  readonly madeAt: string;
  readonly handedInAt: string | null;
  readonly closedAt: string | null;
  /** The board as proposed, as a board file; null where that is too long to stand here, or there is none. */
  readonly board: unknown;
  readonly talk: readonly Thread[];
}

export interface PackedProposals {
  readonly records: readonly KeptRecord[];
  readonly text: readonly ReadableProposal[];
}

/** In the order of the branches. O(what they hold). */
export function packProposals(branches: readonly PackedBranch[]): PackedProposals {
  const records: KeptRecord[] = [];
  let left = MAX_READABLE_BYTES;
  const text = branches.map(({ record, design, talk }): ReadableProposal => {
    const { board, kind: _, about, id } = record;
    const { title, name, state, word, isPart, madeAt, handedInAt, closedAt } = readProposal(id, about);
    const keep = (kind: string, bytes: Uint8Array): number =>
      records.push({ board, kind, id, about: '', bytes });
    const proposed = withDocument(design, (doc) => {
      const compact = compactDesign(doc);
      if (compact === null) return null;
      keep(PROPOSED.design, Y.encodeStateAsUpdate(compact));
      const file = formatBoard(readDesign(compact).board);
      left -= JSON.stringify(file).length;
      return left < 0 ? null : file;
    });
    const threads = withDocument(talk, (doc) => {
      const said = readTalk(doc);
      if (said.threads.length > 0)
        keep(PROPOSED.talk, Y.encodeStateAsUpdate(copyTalk(said, (person) => person)));
      return said.threads;
    });
    return {
      title,
      name,
      state,
      word,
      isPart,
      madeAt: new Date(madeAt).toISOString(),
      handedInAt: timeOf(handedInAt),
      closedAt: timeOf(closedAt),
      board: proposed,
      talk: threads,
    };
  });
  return { records, text };
}

function timeOf(ms: number | null): string | null {
  return ms === null ? null : new Date(ms).toISOString();
}
