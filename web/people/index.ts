export type { FollowEvent, RenameEvent } from './lb-people.ts';
