export type { Proposal, ProposalState } from './proposal.ts';
export { type ProposalRoutesDeps, type ProposalStanding, proposalRoutes } from './proposal-routes.ts';
export { Proposals, type ProposalsDeps, type ProposalStates, type Refusal } from './proposals.ts';
