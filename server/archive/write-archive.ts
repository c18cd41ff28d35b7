/** Packs all that is kept of a board into one zip file. */
import { createHash } from 'node:crypto';
import { strToU8, zip } from 'fflate';
import type { KeptRecord } from '../store/index.ts';
import {
  ARCHIVE_FORMAT,
  ARCHIVE_VERSION,
  ArchiveError,
  type ArchiveRecord,
  BOARD_FILE,
  DESIGN,
  MANIFEST,
  MAX_PARTS,
  MAX_UNPACKED_BYTES,
  type Manifest,
  PROPOSALS_TEXT,
  READ_ME,
  TALK,
  TALK_TEXT,
} from './archive-format.ts';

/** What goes into an archive. */
export interface ArchiveContent {
  readonly title: string;
  readonly boardFile: unknown;
  readonly design: Uint8Array;
  readonly talk: Uint8Array;
  readonly talkText: unknown;
  /** Its part is left out where there are none. */
  readonly proposalsText: readonly unknown[];
  readonly records: readonly KeptRecord[];
  readonly lacks: readonly string[];
}

const READ_ME_TEXT = `Everything that Larkboard kept of one board.

${BOARD_FILE}     the board as a file: any Larkboard opens it
${TALK_TEXT}      what was said about it, to read
${PROPOSALS_TEXT}  what was proposed, by whom, how it ended, the board as proposed and what was said there, to read
${DESIGN}, ${TALK}  board and talk with their ids, as Yjs updates
records/         versions and proposals; ${MANIFEST} says what each is
${MANIFEST}  what this archive holds, with a SHA-256 of each part

A Larkboard server loads the archive as a new board: design, talk, versions and proposals. Who said or proposed what keeps
the name it was said under, but belongs to nobody on the new server.
`;

/**
 * The archive as a zip file. O(content), compressed off the main thread.
 * @throws ArchiveError 'too-large' when it would be larger than any server takes
 */
export async function writeArchive(content: ArchiveContent, nowMs: number): Promise<Uint8Array> {
  const files: Record<string, Uint8Array> = {
    [READ_ME]: strToU8(READ_ME_TEXT + readMeOfLacks(content.lacks)),
    [BOARD_FILE]: strToU8(`${JSON.stringify(content.boardFile, null, 1)}\n`),
    [DESIGN]: content.design,
    [TALK]: content.talk,
    [TALK_TEXT]: strToU8(`${JSON.stringify(content.talkText, null, 1)}\n`),
    ...(content.proposalsText.length > 0 && {
      [PROPOSALS_TEXT]: strToU8(`${JSON.stringify(content.proposalsText, null, 1)}\n`),
    }),
  };
  const records: ArchiveRecord[] = content.records.map(({ kind, id, about, bytes }, i) => {
    const path = `records/${String(i + 1).padStart(4, '0')}.bin`;
    files[path] = bytes;
    return { kind, id, about, path };
  });
  const size = Object.values(files).reduce((sum, { length }) => sum + length, 0);
  if (size > MAX_UNPACKED_BYTES || Object.keys(files).length >= MAX_PARTS)
    throw new ArchiveError('too-large', '', `${size} bytes are more than an archive may hold`);
  const manifest: Manifest = {
    format: ARCHIVE_FORMAT,
    version: ARCHIVE_VERSION,
    title: content.title,
    madeAt: new Date(nowMs).toISOString(),
    parts: Object.entries(files).map(([path, bytes]) => ({
      path,
      bytes: bytes.length,
      sha256: sumOf(bytes),
    })),
    records,
    ...(content.lacks.length > 0 && { lacks: content.lacks }),
  };
  files[MANIFEST] = strToU8(`${JSON.stringify(manifest, null, 1)}\n`);
  return new Promise((resolve, reject) =>
    zip(files, { level: 6, mtime: new Date(nowMs) }, (error, packed) =>
      error ? reject(error) : resolve(packed),
    ),
  );
}

function readMeOfLacks(lacks: readonly string[]): string {
  if (lacks.length === 0) return '';
  return `\nSome of the following could not be read on the server, and is not in here: ${lacks.join(', ')}.\n`;
}

/** SHA-256 in hexadecimal. */
export function sumOf(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}
