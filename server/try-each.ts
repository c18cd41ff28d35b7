/** Things of which each is tried, whatever became of the one before. */

/**
 * Does something with one after the other. Where it failed with some, the first failure is thrown once all were tried.
 * @param one answers whether something was done
 * @returns with how many
 */
export async function tryEach<T>(all: readonly T[], one: (of: T) => Promise<boolean>): Promise<number> {
  let done = 0;
  const failures: unknown[] = [];
  for (const of of all)
    try {
      if (await one(of)) done += 1;
    } catch (cause) {
      failures.push(cause);
    }
  if (failures.length > 0) throw failures[0];
  return done;
}
