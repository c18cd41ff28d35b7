export { Journal } from './journal.ts';
export { JOURNAL_JOBS } from './journal-jobs.ts';
export { visitRoutes } from './visit-routes.ts';
