import { deCraftNames } from './de/craft-names.ts';
import { enCraftNames } from './en/craft-names.ts';
import type { Language } from './index.ts';

/** Words of the craft to call people by: at one place the same thing in every language. */
export const CRAFT_NAMES: Readonly<Record<Language, readonly string[]>> = {
  en: enCraftNames,
  de: deCraftNames,
};
