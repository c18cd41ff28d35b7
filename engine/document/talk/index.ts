export { type Pin, type PinPlace, placeOfPin, readPin } from './pin.ts';
export { type Remark, readTalk, type Speaker, type TalkSnapshot, type Thread } from './read-talk.ts';
export { Talk, type TalkCommand, type TalkError, type TalkOptions, type TalkResult } from './talk.ts';
