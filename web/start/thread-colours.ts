/** Threads to begin with, light and dark, of many hues; named in the language of the page. */
import type { PaletteColour } from '../../engine/index.ts';
import { t } from '../text/index.ts';

const THREADS = [
  ['oat', '#efe3cc'],
  ['ember', '#a63a1d'],
  ['fjord', '#1f4f6e'],
  ['broom', '#e8b93c'],
  ['moss', '#5f7a35'],
  ['ink', '#22242e'],
  ['shell', '#f0b8a8'],
  ['heather', '#8a6aa8'],
  ['lagoon', '#2a9a96'],
  ['rust', '#cf6a2a'],
  ['ice', '#bfdde6'],
  ['plum', '#5b2450'],
] as const;

/** Id of a thread to begin with. */
export type ThreadId = (typeof THREADS)[number][0];

/** All of them, in their order. */
export function startThreads(): readonly (PaletteColour & { readonly id: ThreadId })[] {
  return THREADS.map(([id, hex]) => ({ id, name: t(`figure.thread.${id}`), hex }));
}
