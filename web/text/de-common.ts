/** What comes with every part of the page that is fetched later, in German: words of the trade, how sure lengths are, and what can go wrong. */
import { deCraft } from './de-craft.ts';
import { deDoubt } from './de-doubt.ts';
import { dePanels } from './de-panels.ts';
import { deProblems } from './de-problems.ts';

export const deCommon = { ...deCraft, ...dePanels, ...deDoubt, ...deProblems };
