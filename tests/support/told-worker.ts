import { vi } from 'vitest';

/** Stands in where a page starts a worker: takes the job, and tells what a test has it tell. */
export class ToldWorker extends EventTarget {
  /** Those started, the latest last. */
  static readonly all: ToldWorker[] = [];
  job: unknown = null;
  isEnded = false;

  constructor() {
    super();
    ToldWorker.all.push(this);
  }
  postMessage(job: unknown): void {
    this.job = job;
  }
  terminate(): void {
    this.isEnded = true;
  }
  tell(data: object): void {
    this.dispatchEvent(new MessageEvent('message', { data }));
  }
  /** Without a message it could not be fetched. */
  fail(message: string): void {
    this.dispatchEvent(Object.assign(new Event('error'), { message }));
  }
}

/** Has the page start these workers. Whether one is missing it asks of a server that nobody reaches, unless a test has one answer. */
export function startToldWorkers(): void {
  ToldWorker.all.length = 0;
  vi.stubGlobal('Worker', ToldWorker);
  vi.stubGlobal('document', { querySelector: () => ({ src: 'https://board.test/main.js' }) });
  vi.stubGlobal('fetch', () => Promise.reject(new TypeError('nobody answers')));
}
