/** The panels, fetched when they are first opened, and registered then; the elements of the first screen are in elements.ts. */
import type { PanelId } from '../board/index.ts';
import { loadTexts } from '../text/index.ts';

/** In the order of their tabs: the pattern, what is made of it, and people round it. */
const GROUPS: readonly (readonly PanelId[])[] = [
  ['mounting', 'colours', 'symmetry'],
  ['piece', 'gauge', 'cutting', 'work'],
  ['talk', 'proposals', 'versions', 'notes'],
];
export const PANEL_IDS: readonly PanelId[] = GROUPS.flat();
export const FIRST_OF_GROUP: ReadonlySet<PanelId> = new Set(GROUPS.map(([first]) => first!));

type Fetched = readonly [name: string, element: CustomElementConstructor];

const FETCH: Readonly<Record<PanelId, () => Promise<readonly Fetched[]>>> = {
  mounting: async () => {
    const tab = await import('./mounting-tab.ts');
    return [
      ['lb-cautions', tab.LbCautions],
      ['lb-mount-steps', tab.LbMountSteps],
      ['lb-ways-out', tab.LbWaysOut],
      ['lb-mounting-panel', tab.LbMountingPanel],
    ];
  },
  colours: async () => {
    const tab = await import('./colours-tab.ts');
    return [
      ['lb-palette-panel', tab.LbPalettePanel],
      ['lb-colour-check', tab.LbColourCheck],
    ];
  },
  cutting: async () => [['lb-cutting-panel', (await import('./lb-cutting-panel.ts')).LbCuttingPanel]],
  gauge: async () => [['lb-gauge-panel', (await import('./lb-gauge-panel.ts')).LbGaugePanel]],
  work: async () => [['lb-work-panel', (await import('./lb-work-panel.ts')).LbWorkPanel]],
  symmetry: async () => {
    const [tab, { LbBandPicture }] = await Promise.all([
      import('./symmetry-tab.ts'),
      import('../board/lb-band-picture.ts'),
    ]);
    return [
      ['lb-band-picture', LbBandPicture],
      ['lb-symmetry-panel', tab.LbSymmetryPanel],
      ['lb-repeat-panel', tab.LbRepeatPanel],
    ];
  },
  notes: async () => [['lb-notes-panel', (await import('./lb-notes-panel.ts')).LbNotesPanel]],
  talk: async () => {
    const [{ LbTalkPanel }, { LbRemarkBox }] = await Promise.all([
      import('../talk/lb-talk-panel.ts'),
      import('../talk/lb-remark-box.ts'),
      loadTexts('talk'),
    ]);
    return [
      ['lb-remark-box', LbRemarkBox],
      ['lb-talk-panel', LbTalkPanel],
    ];
  },
  proposals: async () => {
    const [{ LbProposalsPanel }] = await Promise.all([
      import('../proposals/lb-proposals-panel.ts'),
      loadTexts('compare'),
    ]);
    return [['lb-proposals-panel', LbProposalsPanel]];
  },
  piece: async () => [['lb-piece-panel', (await import('./lb-piece-panel.ts')).LbPiecePanel]],
  versions: async () => {
    const [tab] = await Promise.all([import('../versions/versions-tab.ts'), loadTexts('versions')]);
    return [
      ['lb-version-picture', tab.LbVersionPicture],
      ['lb-version-view', tab.LbVersionView],
      ['lb-versions-panel', tab.LbVersionsPanel],
    ];
  },
};

/** Fetches what a panel needs. Rejects when it cannot be fetched; may then be called again. */
export async function loadPanel(id: PanelId): Promise<void> {
  const [fetched] = await Promise.all([FETCH[id](), loadTexts('panels')]);
  for (const [name, element] of fetched)
    if (customElements.get(name) === undefined) customElements.define(name, element);
}
