export { designText, type TextListener, type TextRefusal, type TextSource } from './design-text.ts';
export { mergeTexts } from './merge-texts.ts';
export type { TextPlace } from './text-place.ts';
