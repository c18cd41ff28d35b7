/** Registers the elements of the first screen; those of a part come with it. Importing anything else registers nothing. */
import { LbBoard } from './board/lb-board.ts';
import { LbApp } from './pages/lb-app.ts';
import { LbBoardPage } from './pages/lb-board-page.ts';
import { usePart } from './parts/index.ts';

const ELEMENTS: Readonly<Record<string, CustomElementConstructor>> = {
  'lb-board': LbBoard,
  'lb-board-page': LbBoardPage,
  'lb-app': LbApp,
};

/** Makes the page's elements known to the browser; the parts before the pages that use them. */
export function registerElements(): void {
  for (const [name, element] of Object.entries(ELEMENTS)) customElements.define(name, element);
  for (const name of ['people', 'panels'] as const) void fetchMeanwhile(name);
}

const AGAIN_MS = 4000;

/**
 * What nobody waits for to tie: it is fetched meanwhile, and what cannot be fetched now comes when it can. What a newer release has replaced
 * can never come; the page has said so.
 */
async function fetchMeanwhile(name: 'people' | 'panels'): Promise<void> {
  const missing = await usePart(name, () => {}, true);
  if (missing === 'unreachable') setTimeout(() => void fetchMeanwhile(name), AGAIN_MS);
}
