import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { panelName } from '../../../web/board/index.ts';
import { loadTexts } from '../../../web/text/index.ts';
import { stubPage } from '../../support/page-globals.ts';

beforeAll(async () => {
  stubPage();
  await loadTexts('panels');
});
afterAll(() => vi.unstubAllGlobals());

it('[B280] without a ring two panels have other names, and all others their own', () => {
  expect(panelName('mounting', {})).toBe('Mounting');
  expect(panelName('gauge', { begin: 'ring' })).toBe('Bar and gauge');
  for (const begin of ['loose', 'loop', 'stick'] as const)
    expect((['mounting', 'gauge', 'cutting'] as const).map((id) => panelName(id, { begin }))).toEqual([
      'Beginning',
      'Gauge',
      'Cutting list',
    ]);
});
