export { archiveRoutes } from './archive-routes.ts';
export { ARCHIVE_JOBS, Archives } from './archives.ts';
