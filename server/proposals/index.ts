export type { Proposal, ProposalState } from './proposal.ts';
export { PROPOSAL_JOBS } from './proposal-jobs.ts';
export { type ProposalRoutesDeps, type ProposalStanding, proposalRoutes } from './proposal-routes.ts';
export { type ProposalStates, Proposals, type ProposalsDeps, type Refusal } from './proposals.ts';
