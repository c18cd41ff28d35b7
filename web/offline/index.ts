export { bringAside } from './bring-aside.ts';
export { isUpdateReady, keepOffline, onUpdateReady, takeUpdate } from './keep-offline.ts';
export { keepsNothing, lendStorage } from './page-storage.ts';
