export { copyTalk } from './copy-talk.ts';
export { addressOfEntry, COST_VALUES, type EntryPlace } from './entry.ts';
export { MAX_ENTRY_CHARACTERS, type Pin, type PinPlace, placeOfPin } from './pin.ts';
export { readTalkSend, remarkIdOf, type TalkSend } from './read-send.ts';
export { type Remark, readTalk, type Speaker, type TalkSnapshot, type Thread } from './read-talk.ts';
export { Talk, type TalkCommand, type TalkError } from './talk.ts';
export { MAX_MENTIONS, MAX_REMARK_CHARACTERS } from './talk-schema.ts';
