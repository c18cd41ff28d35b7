/** What comes with every part of the page that is fetched later, in English: words of the trade, how sure lengths are, and what can go wrong. */
import { enCraft } from './en-craft.ts';
import { enDoubt } from './en-doubt.ts';
import { enPanels } from './en-panels.ts';
import { enProblems } from './en-problems.ts';

export const enCommon = { ...enCraft, ...enPanels, ...enDoubt, ...enProblems };
