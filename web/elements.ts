/** Registers the elements of the first screen; those of a panel come with it. Importing anything else registers nothing. */
import { LbBoard } from './board/lb-board.ts';
import { LbApp } from './pages/lb-app.ts';
import { LbBoardPage } from './pages/lb-board-page.ts';
import { loadTexts } from './text/index.ts';

const ELEMENTS: Readonly<Record<string, CustomElementConstructor>> = {
  'lb-board': LbBoard,
  'lb-board-page': LbBoardPage,
  'lb-app': LbApp,
};

/** Makes the page's elements known to the browser; the parts before the pages that use them. */
export function registerElements(): void {
  for (const [name, element] of Object.entries(ELEMENTS)) customElements.define(name, element);
  for (const name of Object.keys(LATER)) void registerLater(name);
}

/** What nobody waits for to tie: it is fetched meanwhile, and what cannot be fetched now comes when it can. */
const LATER: Readonly<Record<string, () => Promise<CustomElementConstructor>>> = {
  'lb-people': async () => (await import('./people/lb-people.ts')).LbPeople,
  'lb-panels': async () => {
    const [{ LbPanels }] = await Promise.all([import('./panels/lb-panels.ts'), loadTexts('panels')]);
    return LbPanels;
  },
};
const AGAIN_MS = 4000;

async function registerLater(name: string): Promise<void> {
  try {
    customElements.define(name, await LATER[name]!());
  } catch (error) {
    // A browser says only that the module could not be fetched.
    if (!(error instanceof TypeError)) throw error;
    setTimeout(() => void registerLater(name), AGAIN_MS);
  }
}
