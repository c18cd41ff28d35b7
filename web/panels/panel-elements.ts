/** The panels that are fetched when they are first opened, and registered then. Those of the first screen are in elements.ts. */

import { loadTexts } from '../text/index.ts';

export type PanelId = 'mounting' | 'cutting' | 'gauge' | 'work' | 'symmetry' | 'piece';

/** In the order of their tabs. */
export const PANEL_IDS: readonly PanelId[] = ['mounting', 'cutting', 'gauge', 'work', 'symmetry', 'piece'];

type Fetched = readonly [name: string, element: CustomElementConstructor];

const FETCH: Readonly<Record<PanelId, () => Promise<readonly Fetched[]>>> = {
  mounting: async () => [
    ['lb-mount-steps', (await import('./lb-mount-steps.ts')).LbMountSteps],
    ['lb-ways-out', (await import('./lb-ways-out.ts')).LbWaysOut],
    ['lb-colour-check', (await import('./lb-colour-check.ts')).LbColourCheck],
  ],
  cutting: async () => [['lb-cutting-panel', (await import('./lb-cutting-panel.ts')).LbCuttingPanel]],
  gauge: async () => [['lb-gauge-panel', (await import('./lb-gauge-panel.ts')).LbGaugePanel]],
  work: async () => [['lb-work-panel', (await import('./lb-work-panel.ts')).LbWorkPanel]],
  symmetry: async () => [['lb-symmetry-panel', (await import('./lb-symmetry-panel.ts')).LbSymmetryPanel]],
  piece: async () => [['lb-piece-panel', (await import('./lb-piece-panel.ts')).LbPiecePanel]],
};

/** Fetches what a panel needs. Rejects when it cannot be fetched; may then be called again. */
export async function loadPanel(id: PanelId): Promise<void> {
  const [fetched] = await Promise.all([FETCH[id](), loadTexts('panels')]);
  for (const [name, element] of fetched)
    if (customElements.get(name) === undefined) customElements.define(name, element);
}
