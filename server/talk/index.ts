export { TalkRooms } from './talk-rooms.ts';
export { talkRoutes } from './talk-routes.ts';
