/** Sources that report which places are reached, from whatever process or page they run in. */
import type { Place } from './places.ts';

/** Begins what a page says on its console when it reaches a place; the number of the place follows. */
export const SAID = '__reached ';

/** Statements become blocks, expressions are put after a comma. */
const STATEMENT = /Statement$/;

interface Insertion {
  readonly at: number;
  readonly text: string;
  /** Of several at one offset, the lower comes first: what ends, from the inside out, then what begins, from the outside in. */
  readonly order: number;
}

/** What reports: Node appends to `log`, pages and their workers speak. Each place once in each module of each process. */
function reporter(log: string): string {
  return [
    'function __reached(i) {',
    'const seen = (__reached.seen ??= []); if (seen[i]) return; seen[i] = true;',
    'const node = globalThis.process?.getBuiltinModule;',
    `if (node) { node('node:fs').appendFileSync(${JSON.stringify(log)}, i + '\\n'); return; }`,
    `const { debug } = console; debug('${SAID}' + i);`,
    '}',
  ].join(' ');
}

/**
 * A source which says when one of the places is reached and otherwise does what it did.
 * @param numbered places of this source with the numbers they report
 * @param log      file to which processes append the numbers, one a line
 */
export function instrument(
  text: string,
  numbered: readonly (readonly [Place, number])[],
  log: string,
): string {
  const insertions: Insertion[] = numbered.flatMap(([{ around }, i]) => {
    const length = around.end - around.start;
    const [open, close] = STATEMENT.test(around.type)
      ? [`{ __reached(${i}); `, ' }']
      : [`(__reached(${i}), `, ')'];
    return [
      { at: around.start, text: open, order: -length },
      { at: around.end, text: close, order: length - text.length - 1e9 },
    ];
  });
  insertions.sort((a, b) => a.at - b.at || a.order - b.order);
  let code = '';
  let from = 0;
  for (const insertion of insertions) {
    code += text.slice(from, insertion.at) + insertion.text;
    from = insertion.at;
  }
  code += text.slice(from);
  // Types mean nothing here: a condition after a comma narrows less. Lines stay as many, for the tests which count them.
  return `// @ts-nocheck\n${reporter(log)} ${code.replace(/\n$/, '')}`;
}
