/** Packs a board into an archive. Done in a thread: a large design takes most of a second to read. */
import * as Y from 'yjs';
import { compactDesign, copyTalk, readDesign, readTalk } from '../../engine/document/index.ts';
import { formatBoard } from '../../engine/index.ts';
import type { KeptRecord } from '../store/index.ts';
import { type Job, withDocument } from '../work/index.ts';
import { ArchiveError, type ArchiveFault } from './archive-format.ts';
import { type PackedBranch, packProposals } from './pack-proposals.ts';
import { writeArchive } from './write-archive.ts';

export interface PackInput {
  /** The updates that make the documents. */
  readonly design: readonly Uint8Array[];
  readonly talk: readonly Uint8Array[];
  readonly records: readonly KeptRecord[];
  /** The proposals among the records, with what their branches hold. */
  readonly branches: readonly PackedBranch[];
  /** Of what some could not be read. */
  readonly lacks: readonly string[];
  /** Ms since 1970. */
  readonly now: number;
}

export type PackOutput =
  | { readonly ok: true; readonly value: Uint8Array }
  | { readonly ok: false; readonly error: ArchiveFault };

export const PACK: Job<PackInput, PackOutput> = {
  name: 'archive-pack',
  run: async (input) => {
    try {
      return { ok: true, value: await pack(input) };
    } catch (cause) {
      if (!(cause instanceof ArchiveError)) throw cause;
      return { ok: false, error: cause.fault };
    }
  },
};

function pack({ design, talk, records, branches, lacks, now }: PackInput): Promise<Uint8Array> {
  const { board, bytes } = withDocument(design, (doc) => ({
    board: readDesign(doc).board,
    bytes: Y.encodeStateAsUpdate(compactDesign(doc) ?? doc),
  }));
  const said = withDocument(talk, (doc) => {
    const snapshot = readTalk(doc);
    return { text: snapshot.threads, bytes: Y.encodeStateAsUpdate(copyTalk(snapshot, (id) => id)) };
  });
  const proposals = packProposals(branches);
  const content = {
    title: board.title,
    boardFile: formatBoard(board),
    design: bytes,
    talk: said.bytes,
    talkText: said.text,
    proposalsText: proposals.text,
    records: [...records, ...proposals.records],
    lacks,
  };
  return writeArchive(content, now);
}
