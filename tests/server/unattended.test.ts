/** Work that nobody waits for, and whatever it throws. */
import { describe, expect, it } from 'vitest';
import { Log } from '../../server/index.ts';
import { answeredByLog, unattended } from '../../server/unattended.ts';
import { turnsOfTheLoop } from '../support/until.ts';

/** An error of another realm, or one that somebody took apart. */
function stackless(): Error {
  const error = new Error('taken apart');
  delete error.stack;
  return error;
}

describe('work that nobody waits for', () => {
  it('[V252] never throws, and stands in the log with what it was and all that is known of why', async () => {
    const lines: string[] = [];
    const answerable = answeredByLog(
      new Log(
        (line) => lines.push(line),
        () => 0,
        'error',
      ),
    );
    const causes: readonly (readonly [cause: unknown, message: string, stack: unknown])[] = [
      [new RangeError('too far'), 'too far', expect.stringContaining('unattended.test')],
      [stackless(), 'taken apart', null],
      ['only words', 'only words', null],
      [undefined, 'undefined', null],
    ];
    for (const [cause] of causes)
      for (const work of [
        () => {
          throw cause;
        },
        () => Promise.reject(cause),
      ])
        unattended(answerable, 'tidy', work);
    unattended(answerable, 'fine', () => Promise.resolve(1));
    await turnsOfTheLoop();
    const told = lines.map((line) => JSON.parse(line) as Record<string, unknown>);
    // What throws at once is told at once, the rest once it is known.
    expect(told.map(({ message }) => message)).toEqual([...causes, ...causes].map(([, message]) => message));
    for (const [i, [, message, stack]] of [...causes, ...causes].entries())
      expect(told[i]).toMatchObject({ event: 'unattended-failed', what: 'tidy', message, stack });
  });
});
