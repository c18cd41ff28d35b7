export { PROPOSAL_JOBS } from './proposal-jobs.ts';
export { ProposalNews } from './proposal-news.ts';
export { proposalRoutes } from './proposal-routes.ts';
export { Proposals } from './proposals.ts';
