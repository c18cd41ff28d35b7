/** What comes with every part of the page that is fetched later, in German: words of the trade, of the steps, how sure lengths are, and what can go wrong. */
import { deCraft } from './craft.ts';
import { deDoubt } from './doubt.ts';
import { dePanels } from './panels.ts';
import { deProblems } from './problems.ts';

export { deStepWords } from './step-words.ts';

export const deCommon = { ...deCraft, ...dePanels, ...deDoubt, ...deProblems };
