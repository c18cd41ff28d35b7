/** What each role may bring into each document of a board, and what others leave room for. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  BOARD_PARTS,
  type BoardPart,
  canWrite,
  DOCUMENT_PARTS,
  quotaOf,
  ROLES,
  type Role,
} from '../../../engine/document/index.ts';
import { bulk } from '../../support/bulk.ts';
import {
  type AccessServer,
  closeAccessServer,
  heardOut,
  Person,
  someone,
  startAccessServer,
} from '../access-people.ts';

let server: AccessServer;
let owner: Person;

beforeAll(async () => {
  server = await startAccessServer();
  owner = new Person(server);
});
afterAll(() => closeAccessServer(server));

async function storedBytes(board: string, part: BoardPart): Promise<number> {
  const rows = await server.store.load({ board, part });
  return rows.reduce((sum, { bytes }) => sum + bytes.length, 0);
}

/** Only the design is written by sockets, whatever the server says of that. */
const closed = ROLES.flatMap((role) =>
  BOARD_PARTS.filter((part) => part !== 'design' || !canWrite(role, part)).map((part) => ({ role, part })),
);

describe('megabytes by a raw socket', () => {
  it.each(closed)('[V461] of a $role to the $part leave nothing', async ({ role, part }) => {
    const { board, person } = await someone(role, server, owner);
    const before = await storedBytes(board, part);
    const client = await person.socket(board, part).join();
    client.answers = false;
    // Under roots that documents have, and under one that none has.
    for (const root of ['knots', 'threads', 'stops'])
      client.edit((doc) => {
        for (let i = 0; i < 4; i += 1) doc.getMap(root).set(`k${i}`, bulk(64_000));
      });
    await heardOut(client);
    expect(await storedBytes(board, part)).toBe(before);
    const late = await owner.socket(board, part).join();
    for (const root of ['threads', 'stops']) expect(late.doc.getMap(root).size).toBe(0);
  });
});

describe('the share that a role may fill', () => {
  it('[V461] is none where it may not write, and more for whoever has more to answer for', () => {
    for (const part of DOCUMENT_PARTS) {
      const shares = ROLES.map((role) => quotaOf(role, part));
      expect(shares, part).toEqual([...shares].sort((a, b) => b - a));
      for (const role of ROLES) expect(quotaOf(role, part) > 0, `${role} ${part}`).toBe(canWrite(role, part));
    }
  });

  it('[V461] [V145] what learners say leaves room for reviewers, theirs for co-makers, and that for the owner', async () => {
    const small = await startAccessServer({ env: { MAX_DOCUMENT_BYTES: '160000' } });
    const boss = new Person(small);
    const { id } = await boss.makeBoard();
    /** Remarks until it is full, and how large the talk is then. */
    const fill = async (role: Role): Promise<number> => {
      // Nobody says more than twenty in ten seconds.
      let person = boss;
      let status = 201;
      for (let said = 0; status === 201; said += 1) {
        if (role !== 'owner' && said % 15 === 0) {
          person = new Person(small);
          await person.enter(id, (await boss.makeLink(id, role)).secret);
        }
        const by = { id: await person.idOn(id), name: 'Kai', hex: '#112233' };
        const command = { kind: 'open-thread', pin: { kind: 'board' }, text: 'x'.repeat(3_000) };
        const body = { id: `s${said}-${role}`.padEnd(16, 'x'), by, command };
        ({ status } = await person.ask('POST', `/api/boards/${id}/talk`, body));
      }
      expect(status, role).toBe(507);
      const { room, release } = await small.rooms.hold({ board: id, part: 'talk' });
      const bytes = room.encodedState(true).length;
      release();
      return bytes;
    };
    const sizes: number[] = [];
    for (const role of ['learner', 'reviewer', 'co-maker', 'owner'] as const) sizes.push(await fill(role));
    const shares = sizes.map((bytes) => bytes / 160_000);
    for (const [index, most] of [3 / 4, 7 / 8, 1, 9 / 8].entries()) {
      expect(shares[index]!).toBeLessThanOrEqual(most);
      // A remark of this length and what goes with it at most is missing.
      expect(shares[index]!).toBeGreaterThan(most - 12_000 / 160_000);
    }
    await closeAccessServer(small);
  });
});
