export { type TalkDone, TalkRooms } from './talk-rooms.ts';
export { type TalkRoutesDeps, talkRoutes } from './talk-routes.ts';
