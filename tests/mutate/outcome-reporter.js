/**
 * Tells the mutation run what became of each test file, as lines of JSON (`OutcomeLine` in run-tests.ts) in the file that
 * MUTATE_OUTCOME names. Plain JavaScript beside the sources: the test runner of another checkout loads it from here.
 */
import { appendFileSync } from 'node:fs';

const write = (line) => appendFileSync(process.env.MUTATE_OUTCOME, `${JSON.stringify(line)}\n`);

/** First line of a message, without colours. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: colours begin with the escape character
const firstLine = (message = '') => message.replace(/\u001b\[[\d;]*m/g, '').split('\n')[0];

// biome-ignore lint/style/noDefaultExport: the test runner reads it so
export default class OutcomeReporter {
  onTestModuleStart(module) {
    write({ kind: 'begun', file: module.relativeModuleId });
  }

  onTestModuleEnd(module) {
    const file = module.relativeModuleId;
    if (module.ok()) {
      write({ kind: 'passed', file });
      return;
    }
    const [failed] = module.children.allTests('failed');
    const suite = [...module.children.allSuites()].find((one) => one.errors().length > 0);
    const [error] = [...(failed?.result().errors ?? []), ...(suite?.errors() ?? []), ...module.errors()];
    const test = failed?.fullName ?? suite?.fullName ?? '';
    write({ kind: 'failed', file, test, why: firstLine(error?.message) });
  }

  onTestRunEnd(_modules, errors) {
    for (const { message } of errors) write({ kind: 'unhandled', why: firstLine(message) });
  }
}
