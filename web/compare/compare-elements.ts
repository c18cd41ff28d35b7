/** Fetches what comparing needs, when it is first needed. */
import { loadTexts } from '../text/index.ts';

/** Registers `lb-compare` and loads its texts. Rejects with a TypeError when something cannot be fetched; may be called again. */
export async function loadCompare(): Promise<void> {
  const [{ LbCompare }, { LbComparePicture }] = await Promise.all([
    import('./lb-compare.ts'),
    import('./lb-compare-picture.ts'),
    loadTexts('compare'),
    loadTexts('panels'),
  ]);
  for (const [name, element] of [
    ['lb-compare-picture', LbComparePicture],
    ['lb-compare', LbCompare],
  ] as const)
    if (customElements.get(name) === undefined) customElements.define(name, element);
}
