/** One behaviour suite for every access store. */
import { describe, expect, it } from 'vitest';
import type { HandOverRecord, LinkRecord } from '../../server/access/access-store.ts';
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

    const code = (patch: Partial<HandOverRecord> = {}): HandOverRecord => ({
      codeHash: 'hash of the code',
      personId: 'giver',
      boardId: 'kites',
      linkId: 'a',
      linkBoardId: 'kites',
      endsAt: 100,
      carried: 'carried',
      ...patch,
    });

    it('[V530] of many who take one code at once one gets what goes along, and may look by its link, whatever that is for', async () => {
      const store = await open();
      await store.addLink(link({ id: 'a', role: 'owner' }));
      await store.addHandOver(code(), 50);
      expect(await store.hasHandOver('kites', 'hash of the code', 99)).toBe(true);
      const people = Array.from({ length: 12 }, (_, i) => `p${i}`);
      const taken = await Promise.all(
        people.map((person) => store.takeHandOver('kites', 'hash of the code', person, 99)),
      );
      expect(taken.filter((one) => one !== null)).toEqual(['carried']);
      const held = await Promise.all(people.map((person) => store.grantedLinks(person, 'kites')));
      expect(held.map((links) => links.map(({ id, role }) => `${id} ${role}`).join())).toEqual(
        taken.map((one) => (one === null ? '' : 'a onlooker')),
      );
      expect(await store.hasHandOver('kites', 'hash of the code', 99)).toBe(false);
      await store.close();
    });

    it('[V530] a code works for its board alone, until it ends; the next one of the same person takes its place', async () => {
      const store = await open();
      await store.addHandOver(code(), 50);
      expect([
        await store.takeHandOver('boats', 'hash of the code', 'p', 99),
        await store.takeHandOver('kites', 'hash of another', 'p', 99),
        await store.takeHandOver('kites', 'hash of the code', 'p', 100),
        await store.hasHandOver('boats', 'hash of the code', 99),
        await store.hasHandOver('kites', 'hash of the code', 100),
      ]).toEqual([null, null, null, false, false]);
      await store.addHandOver(code({ codeHash: 'the next one', carried: '' }), 60);
      await store.addHandOver(code({ codeHash: 'of another', personId: 'another', endsAt: 90 }), 60);
      expect(await store.takeHandOver('kites', 'hash of the code', 'p', 61)).toBeNull();
      expect(await store.takeHandOver('kites', 'the next one', 'p', 61)).toBe('');
      // Those that ended are forgotten when the next one is kept.
      await store.addHandOver(code({ codeHash: 'a third', endsAt: 200 }), 95);
      expect(await store.takeHandOver('kites', 'of another', 'p', 61)).toBeNull();
      await store.close();
    });

    it('[V531] who came in by the link keeps what they may do, and who comes in by it later may do it then', async () => {
      const store = await open();
      await store.addLink(link({ id: 'a' }));
      const roles = async (person: string) =>
        (await store.grantedLinks(person, 'kites')).map(({ role }) => role);
      await store.addGrant({ personId: 'maker', linkId: 'a', boardId: 'kites' });
      await store.addHandOver(code(), 50);
      await store.takeHandOver('kites', 'hash of the code', 'maker', 60);
      expect(await roles('maker')).toEqual(['co-maker']);
      await store.addHandOver(code(), 50);
      await store.takeHandOver('kites', 'hash of the code', 'phone', 60);
      expect(await roles('phone')).toEqual(['onlooker']);
      expect(await store.boardsOf('phone', 60)).toEqual(['kites']);
      await store.addGrant({ personId: 'phone', linkId: 'a', boardId: 'kites' });
      expect(await roles('phone')).toEqual(['co-maker']);
      await store.close();
    });

    it('[V531] a code of an open board rests on no link, and one of a deleted board works no more', async () => {
      const store = await open();
      await store.addHandOver(code({ linkId: null }), 50);
      expect(await store.takeHandOver('kites', 'hash of the code', 'p', 60)).toBe('carried');
      expect(await store.grantedLinks('p', 'kites')).toEqual([]);
      await store.addHandOver(code(), 50);
      await store.forgetBoard('kites');
      expect(await store.takeHandOver('kites', 'hash of the code', 'p', 60)).toBeNull();
      await store.close();
    });
  });
}
