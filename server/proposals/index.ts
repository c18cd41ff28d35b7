export { PROPOSAL_JOBS } from './proposal-jobs.ts';
export { proposalRoutes } from './proposal-routes.ts';
export { Proposals } from './proposals.ts';
