/** What a language brings: one folder beside this file, and a line in `LANGUAGES`. */
import type { StepWords } from '../../engine/index.ts';

export type Texts = Readonly<Record<string, string>>;

/** Texts that are fetched with the page that shows them. */
export type TextGroup =
  | 'aside'
  | 'figures'
  | 'undo'
  /** Comes with any other. */
  | 'common'
  | 'compare'
  | 'help'
  | 'lesson'
  | 'notices'
  | 'panels'
  | 'paper'
  | 'people'
  | 'price'
  | 'set'
  | 'share'
  | 'sheets'
  | 'start'
  | 'table'
  | 'talk'
  | 'versions'
  | 'wish'
  | 'writing';

/** A language that can be chosen: what it is called in itself, and where its texts are. */
export interface Offered {
  readonly name: string;
  readonly texts: () => Promise<LanguageTexts>;
}

export interface LanguageTexts {
  /** What the page needs from the start. */
  readonly first: Texts;
  readonly groups: Readonly<Record<TextGroup, () => Promise<Texts>>>;
  /** How the steps of tying are said, in the file of the group `common`; null = as the engine says them, in English. */
  readonly steps: (() => Promise<StepWords>) | null;
}

/** All that a file of texts exports, as one table. */
export async function tablesIn(file: Promise<Readonly<Record<string, Texts>>>): Promise<Texts> {
  return Object.assign({}, ...Object.values(await file));
}
