export { archiveRoutes } from './archive-routes.ts';
export { Archives } from './archives.ts';
