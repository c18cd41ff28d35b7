/** Proposals as the page asks for them. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import * as Y from 'yjs';
import {
  acceptProposal,
  declineProposal,
  fetchProposal,
  fetchProposalSides,
  fetchProposals,
  handInProposal,
  makeProposal,
  withdrawProposal,
} from '../../../web/sync/index.ts';
import { BoardLine } from '../../../web/sync/board-line.ts';
import { openDesign, runAll } from '../../support/open-design.ts';

afterEach(() => vi.unstubAllGlobals());

function serverSaying(answer: () => Response): string[] {
  const asked: string[] = [];
  vi.stubGlobal('fetch', async (path: string, { method = 'GET', body }: RequestInit = {}) => {
    asked.push([method, path, ...(body == null ? [] : [String(body)])].join(' '));
    return answer();
  });
  return asked;
}

describe('proposals', () => {
  it('each thing that is done with one has an address of its own', async () => {
    const asked = serverSaying(() => Response.json({}));
    await makeProposal('a/b', 'wider', 'Ida');
    await fetchProposal('b', 'p/1');
    await handInProposal('b', 'p');
    await withdrawProposal('b', 'p');
    await declineProposal('b', 'p', 'no');
    await acceptProposal('b', 'p', { seen: 's', word: '', isPart: true });
    expect(asked).toEqual([
      'POST /api/boards/a%2Fb/proposals {"title":"wider","name":"Ida"}',
      'GET /api/boards/b/proposals/p%2F1',
      'POST /api/boards/b/proposals/p/hand-in {}',
      'POST /api/boards/b/proposals/p/withdraw {}',
      'POST /api/boards/b/proposals/p/decline {"word":"no"}',
      'POST /api/boards/b/proposals/p/accept {"seen":"s","word":"","isPart":true}',
    ]);
  });

  it('there are none where the server keeps no links; other refusals are told', async () => {
    serverSaying(() => Response.json({ error: { kind: 'not-found', message: '' } }, { status: 404 }));
    expect(await fetchProposals('b')).toBeNull();
    serverSaying(() => Response.json({ error: { kind: 'forbidden', message: '' } }, { status: 403 }));
    await expect(fetchProposals('b')).rejects.toMatchObject({ kind: 'forbidden' });
    serverSaying(() => Response.json([{ id: 'p' }]));
    expect(await fetchProposals('b')).toEqual([{ id: 'p' }]);
  });

  it('both sides are read as boards, with what was seen; a side without a board is said to be none', async () => {
    const base = openDesign();
    const written = (doc: Y.Doc): string => Buffer.from(Y.encodeStateAsUpdate(doc)).toString('base64');
    const before = written(base.doc);
    runAll(base, { kind: 'set-title', title: 'Wider' });
    const after = written(base.doc);
    serverSaying(() => Response.json({ base: before, present: after, seen: 's' }));
    const sides = await fetchProposalSides('b', 'p');
    expect([sides.base.board.title, sides.present.board.title, sides.seen]).toEqual([
      'Test input',
      'Wider',
      's',
    ]);
    serverSaying(() => Response.json({ base: before, present: written(new Y.Doc()), seen: 's' }));
    await expect(fetchProposalSides('b', 'p')).rejects.toMatchObject({ kind: 'unreadable' });
  });
});

/** Sockets that reach nobody. */
class Socket {
  static readonly made: Socket[] = [];
  readonly OPEN = 1;
  readonly readyState = 1;
  readonly url: string;
  onmessage: ((event: { readonly data: ArrayBuffer }) => void) | null = null;

  constructor(url: string) {
    this.url = url;
    Socket.made.push(this);
  }

  send(): void {}

  close(): void {}
}

it('[A37] a line asks in its address to hear of proposals, where somebody wants to, and hears', () => {
  let news = 0;
  const rest = {
    doc: new Y.Doc(),
    room: 'b/design',
    server: 'ws://here',
    canEdit: false,
    onChange: () => {},
  };
  const socket = Socket as unknown as typeof WebSocket;
  const lines = [
    new BoardLine({ ...rest, socket, onProposals: () => news++ }),
    new BoardLine({ ...rest, socket }),
  ];
  for (const line of lines) line.connect();
  expect(Socket.made.map(({ url }) => url)).toEqual([
    'ws://here/sync/b/design?hears=proposals',
    'ws://here/sync/b/design',
  ]);
  for (const { onmessage } of Socket.made) onmessage?.({ data: Uint8Array.of(103).buffer });
  expect(news).toBe(1);
  for (const line of lines) line.destroy();
});
