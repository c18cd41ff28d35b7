export { boardRoutes } from './board-routes.ts';
export { healthRoutes } from './health-routes.ts';
export { DEFAULT_MAKING_LIMITS, limitMaking, type MakingLimits } from './making-limit.ts';
export { pageRoutes } from './page-routes.ts';
export { answerProblem, HttpProblem, type ProblemStatus, statusOfDenial } from './problem.ts';
