/** Fetches what proposals need, when it is first needed. Everything rejects with a TypeError when it cannot be fetched. */
import { loadTexts } from '../text/index.ts';

/** Registers `lb-proposal-bar` and loads its texts. */
export async function loadProposalBar(): Promise<void> {
  const [{ LbProposalBar }] = await Promise.all([import('./lb-proposal-bar.ts'), loadTexts('compare')]);
  if (customElements.get('lb-proposal-bar') === undefined)
    customElements.define('lb-proposal-bar', LbProposalBar);
}

/** Registers `lb-review` and opens the one under `root` with a proposal. */
export async function showReview(root: ParentNode, proposal: string): Promise<void> {
  const [{ LbReview }, { loadCompare }] = await Promise.all([
    import('./lb-review.ts'),
    import('../compare/compare-elements.ts'),
  ]);
  await loadCompare();
  if (customElements.get('lb-review') === undefined) customElements.define('lb-review', LbReview);
  await root.querySelector<InstanceType<typeof LbReview>>('lb-review')?.show(proposal);
}
