import { deCraftNames } from './de/craft-names.ts';
import { enCraftNames } from './en/craft-names.ts';

/** Words of the craft to call people by: at one place the same thing in every language. */
export const CRAFT_NAMES = { en: enCraftNames, de: deCraftNames } as const satisfies Readonly<
  Record<string, readonly string[]>
>;
