export { PROPOSAL_JOBS } from './proposal-jobs.ts';
export {
  isLive,
  MAX_CLOSED,
  MAX_OPEN,
  PROPOSAL,
  type Proposal,
  readProposal,
  sayBranch,
  tellProposal,
  writeProposal,
} from './proposal.ts';
export { ProposalNews } from './proposal-news.ts';
export { proposalRoutes } from './proposal-routes.ts';
export { Proposals } from './proposals.ts';
