/** What stands in an archive of a board: a zip file whose parts are named and summed in its manifest. */

/** First field of a manifest. */
export const ARCHIVE_FORMAT = 'larkboard-archive';
/** Changes when an older server could not read an archive any more. */
export const ARCHIVE_VERSION = 1;

export const MANIFEST = 'manifest.json';
export const READ_ME = 'README.txt';
/** The board as the board file that every server and page reads. */
export const BOARD_FILE = 'board.json';
/** The design with its ids, as one Yjs update: pins of the talk and versions hang on them. */
export const DESIGN = 'design.yjs';
/** The talk as one Yjs update. */
export const TALK = 'talk.yjs';
/** The same for people and other programs to read. */
export const TALK_TEXT = 'talk.json';
/** What was proposed, with what it shows and what was said there, for people and other programs to read. */
export const PROPOSALS_TEXT = 'proposals.json';

/**
 * Kinds of records that are kept nowhere but in archives, under the id of their proposal: the design and the talk of its branch. Releases
 * that do not know them pass them over.
 */
export const PROPOSED = { design: 'proposal-design', talk: 'proposal-talk' } as const;
/** Most bytes of boards in {@link PROPOSALS_TEXT}; those beyond it are left out of it, and are among the records alone. */
export const MAX_READABLE_BYTES = 16 * 1024 * 1024;
/** Most bytes of what is told of a proposal: title, name and word at their longest, in JSON. */
export const MAX_PROPOSAL_BYTES = 16 * 1024;

/** Most bytes of an archive as it is sent. */
export const MAX_PACKED_BYTES = 64 * 1024 * 1024;
/** Most bytes of all its parts together, unpacked. */
export const MAX_UNPACKED_BYTES = 128 * 1024 * 1024;
/** Most bytes of one record, and of what is told of it: what a server keeps of a version is below. */
export const MAX_RECORD_BYTES = 8 * 1024 * 1024;
export const MAX_ABOUT_BYTES = 4 * 1024;
/** Most parts. */
export const MAX_PARTS = 2_000;

/** One part of an archive. */
interface ArchivePart {
  readonly path: string;
  readonly bytes: number;
  /** SHA-256 in hexadecimal. */
  readonly sha256: string;
}

/** One of the records kept beside the board: a version, a proposal or what its branch holds. */
export interface ArchiveRecord {
  readonly kind: string;
  readonly id: string;
  readonly about: string;
  /** The part with its bytes. */
  readonly path: string;
}

export interface Manifest {
  readonly format: typeof ARCHIVE_FORMAT;
  readonly version: number;
  readonly title: string;
  /** ISO 8601, UTC. */
  readonly madeAt: string;
  readonly parts: readonly ArchivePart[];
  readonly records: readonly ArchiveRecord[];
  /** Of what some could not be read when it was made: `design`, `talk`, or a record as `kind/id`; absent where all could. */
  readonly lacks?: readonly string[];
}

/** What is wrong with an archive, and in which part. */
export interface ArchiveFault {
  readonly kind: 'not-an-archive' | 'too-large' | 'damaged' | 'newer-archive';
  readonly path: string;
  /** Without the part. */
  readonly said: string;
}

/** An archive that cannot be read. */
export class ArchiveError extends Error {
  readonly kind: ArchiveFault['kind'];
  readonly path: string;
  /** The same as plain data, which a thread can hand on. */
  readonly fault: ArchiveFault;

  constructor(kind: ArchiveFault['kind'], path: string, said: string, options?: ErrorOptions) {
    super(path === '' ? said : `${path}: ${said}`, options);
    this.name = 'ArchiveError';
    this.kind = kind;
    this.path = path;
    this.fault = { kind, path, said };
  }

  static of({ kind, path, said }: ArchiveFault): ArchiveError {
    return new ArchiveError(kind, path, said);
  }
}
