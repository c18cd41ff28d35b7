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
