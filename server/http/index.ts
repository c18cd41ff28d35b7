export { type Admit, type Admitted, admitBy } from './admit.ts';
export { boardRoutes } from './board-routes.ts';
export { healthRoutes } from './health-routes.ts';
export { limitRequests } from './limit-requests.ts';
export { DEFAULT_MAKING_LIMITS, limitMaking, type MakingLimits } from './making-limit.ts';
export { pageRoutes } from './page-routes.ts';
export { answerProblem, HttpProblem, type Problem, type ProblemStatus } from './problem.ts';
export { type Fields, limitBody, readFields, readJson } from './read-body.ts';
export { type CookiePerson, RequestShares } from './request-shares.ts';
