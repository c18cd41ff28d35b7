/**
 * Makes calls of Yjs throw when told to, in the rooms of the server alone: what they import as `yjs` is wrapped when it is
 * loaded. So this must be imported before anything that loads the server; clients of the same process use Yjs as it is.
 */
import { register } from 'node:module';

const CALLS = ['applyUpdate', 'encodeStateAsUpdate', 'mergeUpdates'] as const;

/** What throws next. */
export interface Armed {
  /** Name of the call; null = nothing. Tests name other faults here too, and throw those themselves. */
  fault: string | null;
  /** How often something was thrown. */
  thrown: number;
}

/** One for the process: the wrapped calls look it up by this name. */
const SHARED = 'larkboard: faults of Yjs';

export const armed: Armed = { fault: null, thrown: 0 };
Object.assign(globalThis, { [SHARED]: armed });

const real = import.meta.resolve('yjs');
const wrapped = `
import * as yjs from ${JSON.stringify(real)}; export * from ${JSON.stringify(real)};
const armed = globalThis[${JSON.stringify(SHARED)}];
function failing(name) {
  return (...args) => {
    if (armed.fault === name) {
      armed.thrown += 1;
      throw new RangeError(name + ' fails');
    }
    return yjs[name](...args);
  };
}
${CALLS.map((name) => `export const ${name} = failing('${name}');`).join('\n')}
`;

const asModule = (source: string): string => `data:text/javascript,${encodeURIComponent(source)}`;

register(
  asModule(`
    const url = ${JSON.stringify(asModule(wrapped))};
    export const resolve = (specifier, context, next) =>
      specifier === 'yjs' && /\\/dist\\/server\\/sync\\//.test(context.parentURL ?? '')
        ? { url, format: 'module', shortCircuit: true }
        : next(specifier, context);
  `),
);
