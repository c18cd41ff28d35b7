/** What is exported is wanted elsewhere: an export that nobody imports is dead, or private. */
import { describe, expect, it } from 'vitest';
import { filesBelow, importsOf, readSource, type SourceFile } from './source-files.ts';

const product = ['engine', 'server', 'web'].flatMap((folder) => filesBelow(folder, ['.ts'])).map(readSource);
const tests = filesBelow('tests', ['.ts']).map(readSource);

/** Functions, classes and constants that a file exports; types go with what they are the type of. */
function valuesIn({ path, text }: SourceFile): string[] {
  const declared = text.matchAll(/^export (?:async )?(?:abstract )?(?:function\*?|class|const|let) (\w+)/gm);
  // The engine's indexes list what it offers to whoever builds on it; the others list what is used.
  const isUsed = /^(?:server|web)\/.*\/index\.ts$/.test(path);
  const listed = isUsed ? text.matchAll(/^export \{([^}]*)\}/gm) : [];
  return [
    ...Array.from(declared, ([, name]) => name!),
    ...Array.from(listed, ([, names]) => names!.split(','))
      .flat()
      .map((name) => name.trim())
      .filter((name) => name !== '' && !name.startsWith('type ')),
  ];
}

/** Exports that no file which imports theirs, at once or later, has the name of. */
function unwanted(files: readonly SourceFile[], importers: readonly SourceFile[]): string[] {
  return files.flatMap((file) => {
    const takers = importers.filter(({ imports }) => imports.some((one) => one.file === file.path));
    return valuesIn(file)
      .filter((name) => !takers.some(({ text }) => new RegExp(`\\b${name}\\b`).test(text)))
      .map((name) => `${file.path}: ${name}`);
  });
}

describe('exports', () => {
  it('are imported by another file', () => {
    expect(product.flatMap(valuesIn).length).toBeGreaterThan(500);
    expect(unwanted(product, [...product, ...tests])).toEqual([]);
  });

  it('that nobody imports are found', () => {
    const file = (path: string, text: string): SourceFile => ({ path, text, imports: importsOf(text, path) });
    const a = file('web/a.ts', 'export const one = 1;\nexport class Two {}\nexport function three() {}\n');
    const b = file('web/b.ts', "import { one } from './a.ts';\nconst { three } = await import('./a.ts');\n");
    expect(unwanted([a], [a, b])).toEqual(['web/a.ts: Two']);
  });
});
