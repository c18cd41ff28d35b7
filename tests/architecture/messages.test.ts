/** English messages of errors are for logs: no page may show one. */
import { describe, expect, it } from 'vitest';
import { filesBelow, readSource } from './source-files.ts';

/** Where a message is only handed on, as the message of another error. */
const HANDED_ON: Readonly<Record<string, RegExp>> = {
  // `throw new ApiError('unreachable', (cause as Error).message, cause)`
  'web/sync/api.ts': /new ApiError\('unreachable', \(cause as Error\)\.message/,
  'web/sync/versions.ts': /new ApiError\('bad-version', \(cause as Error\)\.message/,
  'web/files/whole-board.ts': /new ApiError\('unreachable', \(cause as Error\)\.message/,
  // The address of a file that could not be fetched is looked for in it.
  'web/parts/try-fetch.ts': /await whyMissing\(fetched\.error\.message, server\)/,
  // From the worker to the console of the page.
  'web/worker/engine-worker.ts': /post\(\{ kind: 'thrown', message: error instanceof Error/,
  'web/worker/start-job.ts': /new JobError\('broke', (data|event)\.message\)|if \(event\.message\)/,
};
/** `this.message`, `opened.message` and `visit.message` hold sentences that were said before, in the language of the page. */
const SENTENCES = /\b(this|opened|visit)\.message\b/g;

/** Lines of a source that take the message of something. */
function linesWithMessage(text: string): string[] {
  return text
    .split('\n')
    .filter((line) => /\.message\b/.test(line.replace(SENTENCES, '').replace(/^\s*(\*|\/\/).*/, '')));
}

describe('[A50] messages of errors', () => {
  it('are found in whatever way they are written', () => {
    const text =
      "t('x', { why: error.message })\nresult.error?.message\nthis.message\n// error.message\nsaid.messages";
    expect(linesWithMessage(text)).toEqual(["t('x', { why: error.message })", 'result.error?.message']);
  });

  it('are taken nowhere in the page, but to be handed on', () => {
    const taken = filesBelow('web', ['.ts'])
      .filter((path) => !path.endsWith('.styles.ts'))
      .map(readSource)
      .flatMap(({ path, text }) =>
        linesWithMessage(text)
          .filter((line) => !(HANDED_ON[path]?.test(line) ?? false))
          .map((line) => `${path}: ${line.trim()}`),
      );
    expect(taken).toEqual([]);
  });

  it('leave each error by its kind: nothing in the page makes a sentence of an error itself', () => {
    const shown = filesBelow('web', ['.ts'])
      .map(readSource)
      .filter(({ text }) => /String\((error|cause)\)|\$\{(error|cause)\}/.test(text))
      .map(({ path }) => path);
    expect(shown).toEqual(['web/worker/engine-worker.ts']);
  });
});
