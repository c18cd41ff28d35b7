/** Registers the elements of the first screen; those of a panel come with it. Importing anything else registers nothing. */
import { LbBoard } from './board/lb-board.ts';
import { LbApp } from './pages/lb-app.ts';
import { LbBoardPage } from './pages/lb-board-page.ts';
import { LbPanels } from './panels/lb-panels.ts';

const ELEMENTS: Readonly<Record<string, CustomElementConstructor>> = {
  'lb-board': LbBoard,
  'lb-panels': LbPanels,
  'lb-board-page': LbBoardPage,
  'lb-app': LbApp,
};

/** Makes the page's elements known to the browser; the parts before the pages that use them. */
export function registerElements(): void {
  for (const [name, element] of Object.entries(ELEMENTS)) customElements.define(name, element);
  void registerPeople();
}

/** Who is here: nobody waits for it to tie. What cannot be fetched now comes with the connection. */
async function registerPeople(): Promise<void> {
  try {
    customElements.define('lb-people', (await import('./panels/lb-people.ts')).LbPeople);
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    addEventListener('online', () => void registerPeople(), { once: true });
  }
}
