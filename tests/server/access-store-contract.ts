/** One behaviour suite for every access store. */
import { describe, expect, it } from 'vitest';
import type { LinkRecord } from '../../server/access/access-store.ts';
import type { AccessStore } from '../../server/access/index.ts';

function link(patch: Partial<LinkRecord> & { id: string }): LinkRecord {
  return {
    boardId: 'kites',
    role: 'co-maker',
    name: '',
    secretHash: `hash of ${patch.id}`,
    createdAt: 1000,
    endsAt: null,
    revokedAt: null,
    ...patch,
  };
}

/** @param open gives an empty store; the suite closes it */
export function accessStoreContract(name: string, open: () => AccessStore | Promise<AccessStore>): void {
  describe(`access store: ${name}`, () => {
    it('[V-A1] finds a link by board and hash, and by no other board', async () => {
      const store = await open();
      await store.addLink(link({ id: 'a' }));
      expect(await store.linkByHash('kites', 'hash of a')).toEqual(link({ id: 'a' }));
      expect(await store.linkByHash('boats', 'hash of a')).toBeNull();
      expect(await store.linkById('boats', 'a')).toBeNull();
      await store.close();
    });

    it('[V-A1] lists the links of a board oldest first, revoked ones too', async () => {
      const store = await open();
      await store.addLink(link({ id: 'young', createdAt: 3 }));
      await store.addLink(link({ id: 'old', createdAt: 1, revokedAt: 2 }));
      await store.addLink(link({ id: 'other', boardId: 'boats' }));
      expect((await store.links('kites')).map((l) => l.id)).toEqual(['old', 'young']);
      await store.close();
    });

    it('[V-A1] changes only the fields named, and says when there is no such link', async () => {
      const store = await open();
      await store.addLink(link({ id: 'a', endsAt: 50 }));
      expect(await store.updateLink('kites', 'a', { name: 'Sunday class' })).toBe(true);
      expect(await store.linkById('kites', 'a')).toEqual(link({ id: 'a', endsAt: 50, name: 'Sunday class' }));
      expect(await store.updateLink('kites', 'a', { endsAt: null, revokedAt: 9 })).toBe(true);
      expect(await store.linkById('kites', 'a')).toEqual(
        link({ id: 'a', name: 'Sunday class', revokedAt: 9 }),
      );
      expect(await store.updateLink('boats', 'a', { name: 'x' })).toBe(false);
      // Who names none changes nothing, and is told all the same whether the link is there.
      expect([await store.updateLink('kites', 'a', {}), await store.updateLink('boats', 'a', {})]).toEqual([
        true,
        false,
      ]);
      expect(await store.linkById('kites', 'a')).toEqual(
        link({ id: 'a', name: 'Sunday class', revokedAt: 9 }),
      );
      await store.close();
    });

    it('[V-A1] [V-A4] two changes of one link at once are both kept: none brings a link back', async () => {
      const store = await open();
      for (const [id, patches] of [
        ['a', [{ name: 'class' }, { revokedAt: 9 }]],
        ['b', [{ revokedAt: 9 }, { name: 'class' }]],
        ['c', [{ endsAt: 7 }, { revokedAt: 9 }, { name: 'class' }]],
      ] as const) {
        await store.addLink(link({ id, endsAt: 50, secretHash: `hash of ${id}` }));
        await Promise.all(patches.map((patch) => store.updateLink('kites', id, patch)));
        expect(await store.linkById('kites', id)).toMatchObject(Object.assign({}, ...patches));
      }
      await store.close();
    });

    it('[V-A1] remembers who came in by which link, once', async () => {
      const store = await open();
      await store.addLink(link({ id: 'a' }));
      await store.addLink(link({ id: 'b', boardId: 'boats' }));
      for (const linkId of ['a', 'a', 'b'])
        await store.addGrant({ personId: 'p', linkId, boardId: linkId === 'b' ? 'boats' : 'kites' });
      expect((await store.grantedLinks('p', 'kites')).map((l) => l.id)).toEqual(['a']);
      expect(await store.grantedLinks('q', 'kites')).toEqual([]);
      expect(await store.boardsOf('p', 0)).toEqual(['boats', 'kites']);
      await store.updateLink('boats', 'b', { revokedAt: 5 });
      expect(await store.boardsOf('p', 0)).toEqual(['kites']);
      await store.updateLink('kites', 'a', { endsAt: 10 });
      expect(await store.boardsOf('p', 9)).toEqual(['kites']);
      expect(await store.boardsOf('p', 10)).toEqual([]);
      await store.close();
    });

    it('[V-A1] forgets every link and grant of a deleted board', async () => {
      const store = await open();
      await store.addLink(link({ id: 'a' }));
      await store.addGrant({ personId: 'p', linkId: 'a', boardId: 'kites' });
      await store.forgetBoard('kites');
      expect(await store.links('kites')).toEqual([]);
      await store.addLink(link({ id: 'a' }));
      expect(await store.grantedLinks('p', 'kites')).toEqual([]);
      await store.close();
    });

    it('[V-A1] knows a person by the hash of their session only', async () => {
      const store = await open();
      await store.addSession('h', 'p', 1);
      expect(await store.personBySession('h', 0)).toBe('p');
      expect(await store.personBySession('p', 0)).toBeNull();
      await store.close();
    });

    it('[V-A9] a session counts from when it was made or last extended, and is dropped with how its person came in', async () => {
      const store = await open();
      await store.addLink(link({ id: 'a' }));
      for (const [hash, person, at] of [
        ['h', 'p', 100],
        ['h2', 'p', 300],
        ['g', 'q', 100],
      ] as const) {
        await store.addSession(hash, person, at);
        await store.addGrant({ personId: person, linkId: 'a', boardId: 'kites' });
      }
      expect(await store.personBySession('h', 100)).toBe('p');
      expect(await store.personBySession('h', 101)).toBeNull();
      expect(await store.extendSession('h', 250, 100)).toBe(false);
      expect(await store.extendSession('h', 250, 101)).toBe(true);
      expect(await store.extendSession('nobody', 250, 999)).toBe(false);
      expect(await store.personBySession('h', 250)).toBe('p');
      expect(await store.dropSessions(260)).toBe(2);
      expect(await store.dropSessions(260)).toBe(0);
      expect(await store.personBySession('h', 0)).toBeNull();
      expect(await store.personBySession('h2', 0)).toBe('p');
      expect(await store.grantedLinks('p', 'kites')).toHaveLength(1);
      expect(await store.grantedLinks('q', 'kites')).toEqual([]);
      await store.close();
    });
  });
}
