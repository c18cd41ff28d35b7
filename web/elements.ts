/** Registers every element of the page. Importing anything else registers nothing. */
import { LbBandPicture } from './board/lb-band-picture.ts';
import { LbBoard } from './board/lb-board.ts';
import { LbApp } from './pages/lb-app.ts';
import { LbBoardPage } from './pages/lb-board-page.ts';
import { LbStartPage } from './pages/lb-start-page.ts';
import { LbCautions } from './panels/lb-cautions.ts';
import { LbMountingPanel } from './panels/lb-mounting-panel.ts';
import { LbPalettePanel } from './panels/lb-palette-panel.ts';
import { LbPanels } from './panels/lb-panels.ts';
import { LbPeople } from './panels/lb-people.ts';
import { LbRepeatPanel } from './panels/lb-repeat-panel.ts';

const ELEMENTS: Readonly<Record<string, CustomElementConstructor>> = {
  'lb-band-picture': LbBandPicture,
  'lb-board': LbBoard,
  'lb-cautions': LbCautions,
  'lb-mounting-panel': LbMountingPanel,
  'lb-palette-panel': LbPalettePanel,
  'lb-panels': LbPanels,
  'lb-people': LbPeople,
  'lb-repeat-panel': LbRepeatPanel,
  'lb-start-page': LbStartPage,
  'lb-board-page': LbBoardPage,
  'lb-app': LbApp,
};

/** Makes the page's elements known to the browser; the parts before the pages that use them. */
export function registerElements(): void {
  for (const [name, element] of Object.entries(ELEMENTS)) customElements.define(name, element);
}
