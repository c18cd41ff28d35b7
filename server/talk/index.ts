export { type TalkRoutesDeps, talkRoutes } from './talk-routes.ts';
export { type TalkDone, TalkRooms } from './talk-rooms.ts';
