/** Joins the page of a board and what asks for its proposals. */
import type { LitElement } from 'lit';
import type { PanelsBeside } from '../board/index.ts';
import { usePart } from '../parts/index.ts';
import type { LbReview } from './lb-review.ts';

export { LbProposalBar } from './lb-proposal-bar.ts';

/** Pages that hear of proposals already. */
const started = new WeakSet<LitElement>();

/** Lets the page of a board answer what the bar above the board and the panel ask for; may be called again. */
export function startProposals(page: LitElement): void {
  if (started.has(page)) return;
  started.add(page);
  const panels = (): PanelsBeside | null => page.renderRoot.querySelector('lb-panels');
  page.addEventListener('lb-proposals', () => {
    const found = panels();
    if (found === null) return;
    found.open = 'proposals';
    found.scrollIntoView({ block: 'start' });
  });
  page.addEventListener('lb-waiting', ({ count }) => {
    const found = panels();
    if (found !== null) found.waiting = count;
  });
  page.addEventListener('lb-review', ({ proposal }) => {
    void usePart('review', () => page.renderRoot.querySelector<LbReview>('lb-review')?.show(proposal));
  });
}
