/** Visits as the page asks for them. */
import { afterEach, expect, test, vi } from 'vitest';
import { encodeEdit } from '../../../engine/document/index.ts';
import { ApiError, fetchVisitEdits, fetchVisits } from '../../../web/sync/index.ts';

afterEach(() => vi.unstubAllGlobals());

/** A server with one answer. @returns the addresses that were asked */
function answering(body: unknown, status = 200): string[] {
  const asked: string[] = [];
  vi.stubGlobal('fetch', async (path: string) => {
    asked.push(path);
    return new Response(JSON.stringify(body), { status });
  });
  return asked;
}

const edit = {
  changes: [{ root: 'meta', key: 'b.title', before: 'Sails', after: 'Kites' }] as const,
  held: { lists: [], values: [], bases: [] },
};
const base64 = (bytes: Uint8Array): string => btoa(String.fromCharCode(...bytes));

test('[W920] who has been here is asked of the board', async () => {
  const visits = [{ id: 'p.1', personId: 'p', name: 'Pim', began: 1, last: 2, changes: 3 }];
  const asked = answering({ visits });
  expect(await fetchVisits('a b')).toEqual(visits);
  expect(asked).toEqual(['/api/boards/a%20b/visits']);
});

test('[W921] what was done in a visit comes as edits, with who changed what since', async () => {
  const asked = answering({ edits: [base64(encodeEdit(edit))], since: [['meta', 'b.title', 'Ode']] });
  expect(await fetchVisitEdits('a', 'p.1/2')).toEqual({
    edits: [edit],
    since: new Map([['meta b.title', 'Ode']]),
  });
  expect(asked).toEqual(['/api/boards/a/visits/p.1%2F2']);
});

test('[W921] edits that this page cannot read are refused, and what the server says is told', async () => {
  const newer = encodeEdit(edit).slice();
  newer[2] = 99;
  answering({ edits: [base64(newer)], since: [] });
  await expect(fetchVisitEdits('a', 'p')).rejects.toMatchObject({ kind: 'newer-version' });
  answering({ edits: ['AAAA'], since: [] });
  await expect(fetchVisitEdits('a', 'p')).rejects.toMatchObject({ kind: 'bad-answer' });
  answering({ error: { kind: 'no-such-visit', message: 'gone' } }, 404);
  await expect(fetchVisitEdits('a', 'p')).rejects.toThrow(ApiError);
});
