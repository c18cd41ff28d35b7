/** Proposals in words. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { isLive, sayMaker, sayProblem, sayState } from '../../../web/proposals/proposal-words.ts';
import { ApiError, type Proposal } from '../../../web/sync/index.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('compare');
});
afterAll(() => vi.unstubAllGlobals());

const proposal = (more: Partial<Proposal>) =>
  ({ state: 'draft', isPart: false, isMine: false, name: '', ...more }) as Proposal;
const STATES = ['draft', 'open', 'accepted', 'declined', 'withdrawn'] as const;

describe('a proposal', () => {
  it('[A34] is live until it is answered or withdrawn', () => {
    expect(STATES.filter((state) => isLive(proposal({ state })))).toEqual(['draft', 'open']);
  });

  it('[A30] each state has a word, and taking over in part another', () => {
    const words = [
      ...STATES.map((state) => sayState(proposal({ state }))),
      sayState(proposal({ state: 'accepted', isPart: true })),
    ];
    expect(new Set(words).size).toBe(6);
    expect(words[5]).toBe('taken over in part');
    expect(sayState(proposal({ state: 'declined', isPart: true }))).toBe('declined');
  });

  it('[A30] is one’s own, somebody’s, or somebody’s without a name', () => {
    expect(
      [{ isMine: true, name: 'Ida' }, { name: 'Ida' }, {}].map((more) => sayMaker(proposal(more))),
    ).toEqual(['by you', 'by Ida', 'by somebody without a name']);
  });

  it('[A30] what went wrong: no server, or what it said; faults of our own are none of its', () => {
    expect(sayProblem(new ApiError('unreachable', ''))).toMatch(/need the server/);
    expect(sayProblem(new ApiError('forbidden', ''))).toMatch(/^Not done: /);
    expect(() => sayProblem(new TypeError('ours'))).toThrow('ours');
  });
});
