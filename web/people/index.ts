export type { FollowEvent } from './lb-people.ts';
export type { RenameEvent } from './rename-event.ts';
