export { ByteBudget } from './byte-budget.ts';
export { type AnyJob, type Job, TooBusy } from './job.ts';
export { bytesOf, isSameDocument, withDocument } from './with-document.ts';
export { isLarge, Work } from './work.ts';
export { type FromWorker, type ToWorker, WorkThread } from './work-thread.ts';
