/** Matching sets: one pattern in several colourways, what each means for its maker, and colours that would do better. */
export { type AlikePair, type ColourwayMarks, markColourways } from './marks.ts';
export { type ColourMeetings, colourMeetings } from './meetings.ts';
export { type LookSuggestion, type SuggestOptions, suggestLooks } from './suggest-looks.ts';
