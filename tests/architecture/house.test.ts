/** House rules that no linter checks. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { filesBelow, ROOT, readSource } from './source-files.ts';

const product = ['engine', 'server', 'web']
  .flatMap((folder) => filesBelow(folder, ['.ts', '.css']))
  .map(readSource);
const tests = filesBelow('tests', ['.ts']).map(readSource);
const MOST_LINES = 500;

/** Where a name exported by `path` is declared, following re-exports. */
function declarationOf(path: string, name: string): { path: string; text: string; at: number } | null {
  const { text, imports } = readSource(path);
  const declared = new RegExp(
    `^export (?:declare )?(?:abstract )?(?:async )?(?:function\\*?|class|const|let|interface|type) ${name}\\b`,
    'm',
  ).exec(text);
  if (declared !== null) return { path, text, at: declared.index };
  for (const [, names, from] of text.matchAll(/^export (?:type )?\{([^}]*)\} from '([^']+)'/gm)) {
    const isListed = names!.split(',').some((entry) => entry.trim().replace(/^type /, '') === name);
    const target = imports.find(({ specifier }) => specifier === from)?.file;
    if (isListed && target != null) return declarationOf(target, name);
  }
  return null;
}

/** Names that an index lists. */
function exportsOf(path: string): string[] {
  const { text } = readSource(path);
  return [...text.matchAll(/^export (?:type )?\{([^}]*)\}/gm)].flatMap(([, names]) =>
    names!
      .split(',')
      .map((entry) => entry.trim().replace(/^type /, ''))
      .filter((entry) => entry !== ''),
  );
}

/** All rules from the one to the other: `V-R1` to `V-R3` are three. */
function ruleRange(from: string, to: string): string[] {
  const [letters, first, last] = [
    from.replace(/\d+$/, ''),
    ...[from, to].map((rule) => Number(/\d+$/.exec(rule))),
  ];
  return Array.from({ length: last! - first! + 1 }, (_, i) => `${letters}${first! + i}`);
}

/** Whether a doc comment ends right above the declaration. */
function isDocumented(text: string, at: number): boolean {
  return /\*\/\s*$/.test(text.slice(0, at));
}

describe('house rules', () => {
  it(`no file is longer than ${MOST_LINES} lines`, () => {
    const long = [...product, ...tests]
      .map(({ path, text }) => `${path}: ${text.split('\n').length - 1}`)
      .filter((line) => Number(line.split(': ')[1]) > MOST_LINES);
    expect(long).toEqual([]);
  });

  it('exports are listed by name, and none is a default', () => {
    const bad = [...product, ...tests.filter(({ path }) => !path.endsWith('.config.ts'))]
      .filter(({ text }) => /^export (\*|default\b)/m.test(text))
      .map(({ path }) => path);
    expect(bad).toEqual([]);
  });

  it.each(['engine/index.ts', 'engine/document/index.ts'])('every export of %s is documented', (index) => {
    const names = exportsOf(index);
    expect(names.length).toBeGreaterThan(20);
    const bare = names.filter((name) => {
      const found = declarationOf(index, name);
      return found === null || !isDocumented(found.text, found.at);
    });
    expect(bare).toEqual([]);
  });

  it('a declaration without a doc comment would be found', () => {
    expect(isDocumented('/** Said. */\nexport const a = 1;', 13)).toBe(true);
    const text = '/** Said. */\nexport const a = 1;\nexport const b = 2;';
    expect(isDocumented(text, text.lastIndexOf('export'))).toBe(false);
  });

  it('the lock file has no download addresses', () => {
    const lock = readFileSync(join(ROOT, 'package-lock.json'), 'utf8');
    expect(lock).not.toMatch(/"resolved"\s*:/);
    expect(lock).toMatch(/"integrity"\s*:/);
  });

  it('the engine asks no clock, no chance and no console', () => {
    const bad = product
      .filter(({ path }) => path.startsWith('engine/'))
      .filter(({ text }) =>
        /\b(Date\.now|new Date\(|Math\.random|performance\.|console\.|setTimeout)\b/.test(text),
      )
      .map(({ path }) => path);
    expect(bad).toEqual([]);
  });

  it('no test is skipped, kept alone or left to be done', () => {
    const bad = [...product, ...tests]
      .filter(({ path }) => !path.startsWith('tests/architecture/'))
      .filter(({ text }) => /\b(it|test|describe)\.(only|todo)\b|\b(TODO|FIXME)\b/.test(text))
      .map(({ path }) => path);
    expect(bad).toEqual([]);
  });

  const rules = ['engine', 'server', 'web']
    .flatMap((folder) => filesBelow(folder, ['RULES.md']))
    .map((path) => readFileSync(join(ROOT, path), 'utf8'))
    .join('\n');
  /** Letters and a number, as in `V7` or `V-A8`. */
  const RULE = '[A-Z](?:-[A-Z])?\\d+';
  const written = new Set(
    Array.from(
      rules.matchAll(new RegExp(`\\*\\*(${RULE})\\*\\*(?: to \\*\\*(${RULE})\\*\\*)?`, 'g')),
      ([, from, to]) => ruleRange(from!, to ?? from!),
    ).flat(),
  );
  const cited = tests.flatMap(({ path, text }) =>
    Array.from(text.matchAll(new RegExp(`['"\`]((?:\\[${RULE}\\] ?)+)`, 'g')), ([, titles]) =>
      Array.from(titles!.matchAll(new RegExp(RULE, 'g')), ([rule]) => ({ rule, path })),
    ).flat(),
  );

  it('every rule that a test cites is written down', () => {
    expect(cited.length).toBeGreaterThan(300);
    const unknown = cited.filter(({ rule }) => !written.has(rule));
    expect([...new Set(unknown.map(({ rule, path }) => `${rule} in ${path}`))]).toEqual([]);
  });

  it('every rule that is written down is cited by a test', () => {
    const tested = new Set(cited.map(({ rule }) => rule));
    expect(written.size).toBeGreaterThan(80);
    expect([...written].filter((rule) => !tested.has(rule))).toEqual([]);
  });

  it('no rule is written down twice', () => {
    const all = Array.from(rules.matchAll(new RegExp(`^- \\*\\*(${RULE})\\*\\*`, 'gm')), ([, rule]) => rule!);
    expect(all.filter((rule, i) => all.indexOf(rule) !== i)).toEqual([]);
  });
});
