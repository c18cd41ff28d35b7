/** Registers the elements of the first screen; those of a part come with it. Importing anything else registers nothing. */
import { LbBoard } from './board/lb-board.ts';
import { LbApp } from './pages/lb-app.ts';
import { LbBoardPage } from './pages/lb-board-page.ts';
import { fetchMeanwhile, whenSeen } from './parts/index.ts';

const ELEMENTS: Readonly<Record<string, CustomElementConstructor>> = {
  'lb-board': LbBoard,
  'lb-board-page': LbBoardPage,
  'lb-app': LbApp,
};

/** Makes the page's elements known to the browser; the parts before the pages that use them. */
export function registerElements(): void {
  for (const [name, element] of Object.entries(ELEMENTS)) customElements.define(name, element);
  // Nobody waits for these to tie.
  void whenSeen().then(() => {
    for (const name of ['writing', 'people', 'strip'] as const) void fetchMeanwhile(name);
  });
}
