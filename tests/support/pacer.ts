/**
 * Loads: what is done at a rate, so that there is something to be busy with. Nobody waits here: whoever wants to know that something has
 * come about asks `until`, which is the only other place where tests go by the clock.
 */

/** Does something every so many ms; what it came too late for is left out. @returns ends it */
export function everyMs(ms: number, act: () => void): () => void {
  const timer = setInterval(act, ms);
  return () => clearInterval(timer);
}

/**
 * Does something so many times a second for so many seconds; what it came too late for is made up for at once.
 * @returns how often it was done
 */
export async function atRate(perSecond: number, seconds: number, act: () => void): Promise<number> {
  const began = performance.now();
  const elapsed = (): number => (performance.now() - began) / 1000;
  let done = 0;
  while (elapsed() < seconds) {
    for (const due = Math.floor(elapsed() * perSecond); done < due; done += 1) act();
    await new Promise((resolve) => setTimeout(resolve, 1));
  }
  return done;
}
