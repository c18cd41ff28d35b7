/**
 * What has not come about after so long hangs. Far beyond what anything takes on a machine that is busy with something else:
 * how fast things are is for benchmarks to say.
 */
const HUNG_MS = 60_000;
const LOOK_MS = 5;

/**
 * Waits for a state. No test sleeps anywhere else.
 * @param what the state in words, or what says how far it has come
 * @param hungMs for what the server itself lets wait for long
 * @throws Error with these words when it does not come about, and whatever `holds` throws
 */
export async function until(
  what: string | (() => string),
  holds: () => boolean | Promise<boolean>,
  hungMs = HUNG_MS,
): Promise<void> {
  const hungAt = performance.now() + hungMs;
  while (!(await holds())) {
    if (performance.now() > hungAt)
      throw new Error(`waited ${hungMs} ms for: ${typeof what === 'string' ? what : what()}`);
    await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
  }
}

/** Lets everything have its turn that is due now: a turn of the event loop, however long it takes. */
export async function turnsOfTheLoop(count = 1): Promise<void> {
  for (let i = 0; i < count; i += 1) await new Promise((resolve) => setImmediate(resolve));
}
