import { afterEach, describe, expect, it, vi } from 'vitest';
import {
  addressOfLink,
  endLinkAt,
  enterBoard,
  fetchLinks,
  fetchOwnBoards,
  fetchStanding,
  makeLink,
  rememberedRole,
  rememberRole,
  secretIn,
  takeBackLink,
} from '../../../web/sync/links.ts';
import { stubPage } from '../../support/page-globals.ts';

afterEach(() => vi.unstubAllGlobals());

describe('the address of a link', () => {
  const secret = 'Ab-_'.repeat(8);

  it('[A24] carries the secret behind the #, where browsers keep it to themselves', () => {
    const address = new URL(addressOfLink('https://kites.example', 'board', secret));
    expect([address.pathname, address.search, secretIn(address.hash)]).toEqual(['/board/board', '', secret]);
  });

  it.each(['', '#', '#top', `#${secret}x`, `#${secret.slice(1)}`, secret, `#${secret.slice(1)}%`])(
    '[A24] %j holds no secret',
    (hash) => expect(secretIn(hash)).toBeNull(),
  );
});

describe('asking for links', () => {
  /** A server that answers so. @returns what it was asked */
  function serverSaying(answer: () => Response): (readonly [string, string, unknown])[] {
    const asked: (readonly [string, string, unknown])[] = [];
    vi.stubGlobal('fetch', async (path: string, { method = 'GET', body }: RequestInit = {}) => {
      asked.push([method, path, body === undefined ? undefined : JSON.parse(String(body))]);
      return answer();
    });
    return asked;
  }
  const no = (kind: string, status: number) => () =>
    Response.json({ error: { kind, message: kind } }, { status });

  it('[A24] the secret is in no address that is asked for', async () => {
    const secret = 'Ab-_'.repeat(8);
    const asked = serverSaying(() => Response.json({ secret }));
    await enterBoard('b/1', secret);
    await makeLink('b', { role: 'co-maker', name: 'class', endsAt: null });
    await fetchLinks('b');
    expect(asked).toEqual([
      ['POST', '/api/boards/b%2F1/enter', { secret }],
      ['POST', '/api/boards/b/links', { role: 'co-maker', name: 'class', endsAt: null }],
      ['GET', '/api/boards/b/links', undefined],
    ]);
  });

  it('a link is ended on a day and taken back under its own address', async () => {
    const asked = serverSaying(() => Response.json({}));
    await endLinkAt('b', 'l/1', 5);
    await takeBackLink('b', 'l/1');
    expect(asked).toEqual([
      ['PATCH', '/api/boards/b/links/l%2F1', { endsAt: 5 }],
      ['DELETE', '/api/boards/b/links/l%2F1', undefined],
    ]);
  });

  it('where the server keeps no links one has no standing and no boards of one’s own', async () => {
    serverSaying(no('not-found', 404));
    expect([await fetchStanding('b'), await fetchOwnBoards()]).toEqual([null, []]);
  });

  it('any other refusal is told', async () => {
    serverSaying(no('forbidden', 403));
    await expect(fetchStanding('b')).rejects.toMatchObject({ kind: 'forbidden' });
    await expect(fetchOwnBoards()).rejects.toMatchObject({ kind: 'forbidden' });
  });

  it('the role of last time is remembered for each board, and what is none is not believed', () => {
    stubPage();
    rememberRole('b', 'co-maker');
    localStorage.setItem('larkboard.role.c', 'king');
    expect([rememberedRole('b'), rememberedRole('c'), rememberedRole('d')]).toEqual(['co-maker', null, null]);
  });
});
