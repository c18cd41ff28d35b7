export { type PageHandles, pageHandles } from './page-handles.ts';
export type { OpenTalk } from './start-talk.ts';
