/** Tells the mutation run what became of each test file, as JSON lines in the file that MUTATE_OUTCOME names. */
import { appendFileSync } from 'node:fs';
import type { Reporter, TestModule } from 'vitest/node';
import type { OutcomeLine } from './run-tests.ts';

function write(line: OutcomeLine): void {
  const file = process.env.MUTATE_OUTCOME;
  if (file === undefined) throw new Error('MUTATE_OUTCOME names no file');
  appendFileSync(file, `${JSON.stringify(line)}\n`);
}

/** First line of a message, without colours. */
function firstLine(message: string | undefined): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: colours begin with the escape character
  return (message ?? '').replace(/\u001b\[[\d;]*m/g, '').split('\n')[0]!;
}

// biome-ignore lint/style/noDefaultExport: the test runner reads it so
export default class OutcomeReporter implements Reporter {
  onTestModuleStart(module: TestModule): void {
    write({ kind: 'begun', file: module.relativeModuleId });
  }

  onTestModuleEnd(module: TestModule): void {
    const file = module.relativeModuleId;
    const [failed] = module.children.allTests('failed');
    const suite = [...module.children.allSuites()].find((one) => one.errors().length > 0);
    const [error] = [...(failed?.result().errors ?? []), ...(suite?.errors() ?? []), ...module.errors()];
    if (module.ok()) write({ kind: 'passed', file });
    else
      write({
        kind: 'failed',
        file,
        test: failed?.fullName ?? suite?.fullName ?? '',
        why: firstLine(error?.message),
      });
  }

  onTestRunEnd(_modules: unknown, errors: readonly { readonly message?: string }[]): void {
    for (const { message } of errors) write({ kind: 'unhandled', why: firstLine(message) });
  }
}
