/** Everything that a server tells an owner of a board, as plain JSON: to write it down, and to compare. */
import * as Y from 'yjs';
import { readDesign, readTalk, type Thread } from '../../engine/document/index.ts';
import type { BoardFile } from '../../engine/files/board-file.ts';
import { formatBoard } from '../../engine/index.ts';
import type { Caller } from './caller.ts';

/** A design by what it shows, and the ids on which pins and knots hang. */
export interface DesignWhole {
  readonly file: BoardFile;
  readonly rowPairIds: readonly string[];
  readonly stringPairIds: readonly string[];
}

export interface VersionWhole {
  readonly id: string;
  readonly kind: string;
  readonly at: number;
  readonly name: string;
  readonly by: { readonly personId: string; readonly name: string } | null;
  readonly design: DesignWhole;
}

export interface ProposalWhole {
  readonly id: string;
  readonly title: string;
  readonly name: string;
  readonly state: string;
  readonly word: string;
  readonly isPart: boolean;
  readonly madeAt: number;
  readonly handedInAt: number | null;
  readonly closedAt: number | null;
  readonly base: DesignWhole;
  readonly present: DesignWhole;
}

export interface LinkWhole {
  readonly id: string;
  readonly role: string;
  readonly name: string;
  readonly createdAt: number;
  readonly endsAt: number | null;
  readonly revokedAt: number | null;
}

export interface BoardWhole {
  readonly kind: string;
  readonly design: DesignWhole;
  readonly threads: readonly Thread[];
  /** Newest first. */
  readonly versions: readonly VersionWhole[];
  readonly proposals: readonly ProposalWhole[];
  readonly links: readonly LinkWhole[];
}

export function designWhole(doc: Y.Doc): DesignWhole {
  const { board, rowPairIds, stringPairIds } = readDesign(doc);
  return { file: formatBoard(board), rowPairIds, stringPairIds };
}

function designOf(update: Uint8Array): DesignWhole {
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  const whole = designWhole(doc);
  doc.destroy();
  return whole;
}

async function versionsOf(owner: Caller, at: string): Promise<VersionWhole[]> {
  const { versions } = await owner.get<{ versions: Omit<VersionWhole, 'design'>[] }>(`${at}/versions`);
  const read: VersionWhole[] = [];
  for (const { id, kind, at: when, name, by } of versions) {
    const design = designOf(await owner.bytes(`${at}/versions/${id}`));
    read.push({ id, kind, at: when, name, by, design });
  }
  return read;
}

async function proposalsOf(owner: Caller, at: string): Promise<ProposalWhole[]> {
  const all = await owner.get<Omit<ProposalWhole, 'base' | 'present'>[]>(`${at}/proposals`);
  const read: ProposalWhole[] = [];
  for (const { id, title, name, state, word, isPart, madeAt, handedInAt, closedAt } of all) {
    const states = await owner.get<{ base: string; present: string }>(`${at}/proposals/${id}/states`);
    const [base, present] = [states.base, states.present].map((text) =>
      designOf(Buffer.from(text, 'base64')),
    );
    read.push({
      id,
      title,
      name,
      state,
      word,
      isPart,
      madeAt,
      handedInAt,
      closedAt,
      base: base!,
      present: present!,
    });
  }
  return read;
}

/** Reads a board through the server, as its owner. @throws Error when the server refuses any of it */
export async function readBoardWhole(owner: Caller, board: string): Promise<BoardWhole> {
  const at = `/api/boards/${board}`;
  const { kind } = await owner.get<{ kind: string }>(at);
  return {
    kind,
    design: await owner.read(board, 'design', designWhole),
    threads: await owner.read(board, 'talk', (doc) => readTalk(doc).threads),
    versions: await versionsOf(owner, at),
    proposals: await proposalsOf(owner, at),
    links: await owner.get<LinkWhole[]>(`${at}/links`),
  };
}
