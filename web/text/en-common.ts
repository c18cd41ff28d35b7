/** What comes with every part of the page that is fetched later, in English: words of the trade, and what can go wrong. */
import { enCraft } from './en-craft.ts';
import { enProblems } from './en-problems.ts';

export const enCommon = { ...enCraft, ...enProblems };
