/** Who sits at the page of a board: asked once what they are called, and the same in all tabs. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { type Role, writeBoard } from '../../../engine/document/index.ts';
import { endFirstSight, type PartManifest, registerParts } from '../../../web/parts/index.ts';
import { BoardVisit } from '../../../web/visit/index.ts';
import { countingIds, sampleBoard } from '../../support/sample-board.ts';
import { StubOwnSteps } from '../../support/stub-own-steps.ts';
import { turnsOfTheLoop, until } from '../../support/until.ts';
import { stubHost, stubVisitedPage } from '../../support/visited-page.ts';

const BOARD = '/api/boards/kites';

/** Stands in for what sees to what tabs put aside. */
class AsideOffer {
  async begin(): Promise<void> {}
  end(): void {}
}

let page: ReturnType<typeof stubVisitedPage>;
const visits: BoardVisit[] = [];

beforeEach(() => {
  page = stubVisitedPage();
  stubBoard('co-maker');
  writeBoard(page.rooms.room('kites/design').doc, sampleBoard(), countingIds('w'));
  registerParts({
    aside: { file: async () => ({ AsideOffer }) },
    company: { file: () => import('../../../web/sync/join-company.ts'), texts: ['people'] },
    'own-steps': { file: async () => ({ OwnSteps: StubOwnSteps }) },
    notices: { file: async () => ({}) },
  } satisfies PartManifest);
  // Nobody waits for the others to see the board.
  endFirstSight();
});
afterEach(async () => {
  for (const visit of visits.splice(0)) visit.hostDisconnected();
  await turnsOfTheLoop(5);
  vi.unstubAllGlobals();
});

function stubBoard(role: Role): void {
  page.answers.set(BOARD, { id: 'kites', kind: 'board', canWrite: role !== 'onlooker' });
  page.answers.set(`${BOARD}/me`, { personId: 'wren', role, endsAt: null });
}

async function opened() {
  const visit = new BoardVisit(stubHost(), { onOpened: () => {} });
  visit.hostConnected();
  visits.push(visit);
  await visit.open('kites');
  await until('the board is saved', () => visit.session?.saved === 'saved');
  return { visit, session: visit.session! };
}

describe('who sits here', () => {
  it('[W945] who is here by a link is asked for a name until they have given one, owners and those at a demo are not', async () => {
    const { visit } = await opened();
    expect(visit.asksName).toBe(true);
    visit.rename('Ida');
    expect(visit.asksName).toBe(false);
    visit.leave();
    await visit.open('kites');
    expect(visit.asksName).toBe(false);
    page.kept.clear();
    stubBoard('owner');
    await visit.open('kites');
    expect(visit.asksName).toBe(false);
    stubBoard('onlooker');
    await visit.open('kites');
    expect(visit.asksName).toBe(true);
    page.answers.set(BOARD, { id: 'kites', kind: 'demo', canWrite: false });
    await visit.open('kites');
    expect(visit.asksName).toBe(false);
  });

  it('[W942] a name given in another tab is told here too', async () => {
    const { visit, session } = await opened();
    page.kept.set(
      'larkboard.person',
      JSON.stringify({ id: 'wren', name: 'Ida', hex: '#123456', isNamed: true }),
    );
    dispatchEvent(Object.assign(new Event('storage'), { key: 'larkboard.person' }));
    expect(session.presence.person).toEqual({ id: 'wren', name: 'Ida', hex: '#123456' });
    expect(visit.asksName).toBe(false);
  });

  it('[A25] whoever is at the board is heard of once that part is there', async () => {
    const { session } = await opened();
    await until('it is there', () => session.provider.awareness.getLocalState() !== null);
    expect(session.presence.seat?.since).toBeGreaterThan(0);
    expect(page.kept.get('larkboard.person')).toContain(session.presence.person.name);
  });
});
