export { Access } from './access.ts';
export { personOfRequest } from './access-routes.ts';
export type { AccessStore } from './access-store.ts';
export { AccessThread } from './access-thread.ts';
export { checkAccessFile } from './check-access.ts';
export { PgAccessStore } from './pg-access-store.ts';
export { plugAccess } from './plug-access.ts';
export { ACCESS_STEPS } from './sqlite-access-store.ts';
