/** Fetches what proposals need, when it is first needed. */
import type { LitElement } from 'lit';
import { type PanelsBeside, RefusedEvent } from '../board/index.ts';
import { loadTexts, t } from '../text/index.ts';

/** Pages that hear of proposals already. */
const started = new WeakSet<LitElement>();

/**
 * Registers the bar above the board and lets the page of a board answer what it and the panel ask for. Rejects with a
 * TypeError when something cannot be fetched; may be called again.
 */
export async function startProposals(page: LitElement): Promise<void> {
  const [{ LbProposalBar }] = await Promise.all([import('./lb-proposal-bar.ts'), loadTexts('compare')]);
  if (customElements.get('lb-proposal-bar') === undefined)
    customElements.define('lb-proposal-bar', LbProposalBar);
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
    showReview(page.renderRoot, proposal).catch((error: unknown) => {
      // A browser says only that the module could not be fetched.
      if (!(error instanceof TypeError)) throw error;
      panels()?.dispatchEvent(new RefusedEvent(t('app.notFetched')));
    });
  });
}

/** Registers `lb-review` and opens the one under `root` with a proposal. */
async function showReview(root: ParentNode, proposal: string): Promise<void> {
  const [{ LbReview }, { loadCompare }] = await Promise.all([
    import('./lb-review.ts'),
    import('../compare/compare-elements.ts'),
  ]);
  await loadCompare();
  if (customElements.get('lb-review') === undefined) customElements.define('lb-review', LbReview);
  await root.querySelector<InstanceType<typeof LbReview>>('lb-review')?.show(proposal);
}
