/** Nothing in the server is let go without somebody who answers for it: see server/unattended.ts. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow, ROOT, readSource } from './source-files.ts';

/** Code without comments and texts, lines kept. */
function codeOf(text: string): string {
  const blank = (found: string): string => found.replace(/[^\n]/g, ' ');
  return text.replace(/\/\*[\s\S]*?\*\/|\/\/.*|'(?:[^'\\\n]|\\.)*'|`(?:[^`\\]|\\.)*`/g, blank);
}

const lineOf = (code: string, at: number): number => code.slice(0, at).split('\n').length;

/** Where `void` stands before a value: of a promise it says that nobody answers for it. */
function voided(text: string): number[] {
  const code = codeOf(text);
  const found = [...code.matchAll(/(?<![:|<,?]\s*)(?<!=>\s*)\bvoid\s+[\w(#]|=>\s*void\s+[\w(#]/g)];
  return found.map(({ index }) => lineOf(code, index));
}

/** Where a promise gets handlers and the promise of these goes to nobody. */
function handled(text: string): number[] {
  const code = codeOf(text);
  return [...code.matchAll(/\.(?:then|catch|finally)\s*\(/g)]
    .filter(({ index }) => {
      const begin = Math.max(...[';', '{', '}'].map((sign) => code.lastIndexOf(sign, index)));
      return !/\b(?:await|return)\b|[^=!<>]=[^=>]|=>|^\s*[,[(]/.test(code.slice(begin + 1, index));
    })
    .map(({ index }) => lineOf(code, index));
}

describe('promises of the server', () => {
  const sources = filesBelow('server', ['.ts']).map(readSource);

  it('[V252] are awaited, or given to who answers for them', () => {
    expect(sources.length).toBeGreaterThan(80);
    const bad = sources
      .filter(({ path }) => path !== 'server/unattended.ts')
      .flatMap(({ path, text }) => [...voided(text), ...handled(text)].map((line) => `${path}:${line}`));
    expect(bad).toEqual([]);
  });

  it('[V252] that are simply let go, or returned to who wants nothing back, are found by the linter', () => {
    const { overrides } = JSON.parse(readFileSync(join(ROOT, 'biome.json'), 'utf8')) as {
      overrides: readonly { includes: readonly string[]; linter: { rules: { nursery?: object } } }[];
    };
    const ofServer = overrides.find(({ includes }) => includes.includes('server/**'));
    expect(ofServer?.linter.rules.nursery).toEqual({
      noFloatingPromises: 'error',
      noMisusedPromises: 'error',
    });
  });

  it('that are let go would be found', () => {
    expect(voided('void work();\nif (a) void this.#work();\non(() => void work());')).toEqual([1, 2, 3]);
    expect(
      voided('let a: () => void;\nfunction b(): void {}\n// void work()\nlet c: Promise<void>;'),
    ).toEqual([]);
    expect(handled('work().catch(log);\nif (a) {\n  b\n    .then(c, d);\n}')).toEqual([1, 4]);
    expect(handled('await a.catch(b);\nc = d.then(e);\nreturn f.finally(g);\nconst h = i.then(j);')).toEqual(
      [],
    );
  });
});
