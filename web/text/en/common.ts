/** What comes with every part of the page that is fetched later, in English: words of the trade, how sure lengths are, and what can go wrong. */
import { enCraft } from './craft.ts';
import { enDoubt } from './doubt.ts';
import { enPanels } from './panels.ts';
import { enProblems } from './problems.ts';

export const enCommon = { ...enCraft, ...enPanels, ...enDoubt, ...enProblems };
