/** Matching sets: one pattern in several colourways, what each means for its maker, and colours that would do better. */
export { type AlikePair, type ColourwayMarks, markColourways } from './marks.ts';
export { type LookSuggestion, suggestLooks } from './suggest-looks.ts';
