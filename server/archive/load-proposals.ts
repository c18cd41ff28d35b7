/**
 * The proposals of an archive from outside, each with the branch that a new board gets for it. They belong to nobody here: owners of the new
 * board answer them. Archives of earlier releases hold no branches; their proposals stay in the file.
 */
import { isLive, MAX_CLOSED, MAX_OPEN, PROPOSAL, type Proposal, tellProposal } from '../proposals/index.ts';
import { ArchiveError, MAX_PROPOSAL_BYTES, PROPOSED } from './archive-format.ts';
import type { ReadArchive } from './read-archive.ts';

type LoadedRecord = ReadArchive['records'][number];

export interface LoadedProposal {
  /** Its id is still that of the archive. */
  readonly proposal: Proposal;
  readonly base: Uint8Array;
  readonly design: Uint8Array;
  /** Null where nothing was said on the branch. */
  readonly talk: Uint8Array | null;
}

/** How the documents in an archive are checked and taken over. All throw {@link ArchiveError}. */
export interface Cleaning {
  readonly idOf: (person: string) => string;
  readonly design: (update: Uint8Array, path: string) => Uint8Array;
  readonly talk: (update: Uint8Array, path: string) => Uint8Array;
}

/** @throws ArchiveError 'damaged', or 'too-large' when they are more than a board may have */
export function loadProposals(records: readonly LoadedRecord[], clean: Cleaning): readonly LoadedProposal[] {
  const of = (wanted: string): Map<string, LoadedRecord> =>
    new Map(records.filter(({ kind }) => kind === wanted).map((record) => [record.id, record]));
  const [designs, talks] = [of(PROPOSED.design), of(PROPOSED.talk)];
  const told = [...of(PROPOSAL).values()]
    .filter(({ id }) => designs.has(id))
    .map((record) => ({ record, proposal: proposalOf(record) }));
  for (const [isOne, most] of [
    [isLive, MAX_OPEN],
    [({ state }: Proposal) => state === 'accepted' || state === 'declined', MAX_CLOSED],
    [({ state }: Proposal) => state === 'withdrawn', MAX_CLOSED],
  ] as const)
    if (told.filter(({ proposal }) => isOne(proposal)).length > most)
      throw new ArchiveError('too-large', 'records', `are more proposals of one state than ${most}`);
  return told.map(({ record: { id, bytes }, proposal }) => {
    const path = `record ${id}`;
    const talk = talks.get(id);
    return {
      proposal: { ...proposal, proposer: clean.idOf(proposal.proposer) },
      base: clean.design(bytes, path),
      design: clean.design(designs.get(id)!.bytes, path),
      talk: talk === undefined ? null : clean.talk(talk.bytes, path),
    };
  });
}

function proposalOf({ id, about }: LoadedRecord): Proposal {
  if (Buffer.byteLength(about) > MAX_PROPOSAL_BYTES)
    throw new ArchiveError('too-large', `record ${id}`, `tells more than ${MAX_PROPOSAL_BYTES} bytes`);
  const proposal = tellProposal(id, about);
  if (proposal === null) throw new ArchiveError('damaged', `record ${id}`, 'says nothing that can be read');
  return proposal;
}
