export { Access, type AccessDeps, type NewLink, type Standing } from './access.ts';
export { type AccessRoutesDeps, accessRoutes, personOfRequest, SESSION_COOKIE } from './access-routes.ts';
export type { AccessStore, GrantRecord, LinkRecord } from './access-store.ts';
export { GuessLimiter, type GuessLimits } from './guess-limiter.ts';
export { MemoryAccessStore } from './memory-access-store.ts';
export { PgAccessStore } from './pg-access-store.ts';
export { type PlugAccessDeps, type PluggedAccess, plugAccess } from './plug-access.ts';
export { hashSecret } from './secrets.ts';
export { SqliteAccessStore } from './sqlite-access-store.ts';
