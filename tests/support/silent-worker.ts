/** Stands in where a page would start a worker: takes the job and never answers. */
export class SilentWorker extends EventTarget {
  postMessage(): void {}
  terminate(): void {}
}
