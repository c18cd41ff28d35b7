/**
 * Reads of whole designs for HTTP. Who asks for the same while it is being read gets the same answer; of a
 * large one its summary and its picture are kept until the room changes.
 */
import { readDesign } from '../../engine/document/index.ts';
import { type Board, formatBoard, glanceSvg } from '../../engine/index.ts';
import type { Room } from '../sync/index.ts';
import { bytesOf, isLarge, isSameDocument, type Job, type Work, withDocument } from '../work/index.ts';
import { encodeBoard, newDocumentId } from './encode-board.ts';

/** What lists and headings say of a design. */
export interface DesignSummary {
  readonly title: string;
  readonly strings: number;
  readonly rows: number;
}

export function summaryOf({ title, pattern }: Board): DesignSummary {
  return { title, strings: pattern.colours.length, rows: pattern.rows };
}

type ReadJob<Out> = Job<readonly Uint8Array[], Out>;

function reading<Out>(name: string, read: (board: Board) => Out): ReadJob<Out> {
  return { name, run: (updates) => withDocument(updates, (doc) => read(readDesign(doc).board)) };
}

export const SUMMARY = reading('design-summary', summaryOf);
export const BOARD = reading('design-board', (board) => board);
/** What a page shows before it has the design. */
export interface Glance extends DesignSummary {
  readonly svg: string;
}

export const GLANCE = reading('design-glance', (board): Glance => {
  const { pattern, palette } = board;
  return { ...summaryOf(board), svg: glanceSvg(pattern, palette) };
});
/** The board file as JSON in UTF-8. */
export const FILE = reading('design-file', (board) => Buffer.from(JSON.stringify(formatBoard(board))));
/** The same board as a document of its own. */
export const COPY = reading('design-copy', (board) => ({
  summary: summaryOf(board),
  bytes: encodeBoard(board, newDocumentId),
}));

/** Reads whose answers are small, and asked for again and again. */
const KEPT: ReadonlySet<string> = new Set([SUMMARY.name, GLANCE.name]);

interface Read {
  readonly updates: readonly Uint8Array[];
  readonly output: Promise<unknown>;
}

export class DesignReads {
  readonly #work: Work;
  readonly #reads = new WeakMap<Room, Map<string, Read>>();

  constructor(work: Work) {
    this.#work = work;
  }

  /** The design as it stands in the room now. Rejects with TooBusy when too much waits to be read. */
  async read<Out>(room: Room, job: ReadJob<Out>): Promise<Out> {
    const { updates } = room.held;
    const reads = this.#reads.get(room) ?? new Map<string, Read>();
    this.#reads.set(room, reads);
    const before = reads.get(job.name);
    if (before !== undefined && isSameDocument(before.updates, updates)) return before.output as Promise<Out>;
    const output = this.#work.read(job, updates);
    const read = { updates, output };
    reads.set(job.name, read);
    let isKept = false;
    try {
      const value = await output;
      isKept = KEPT.has(job.name) && isLarge(bytesOf(updates));
      return value;
    } finally {
      if (!isKept && reads.get(job.name) === read) reads.delete(job.name);
    }
  }
}
