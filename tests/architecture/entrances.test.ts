/** Where one enters a folder of the page, and that what is fetched later does not come before. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { basename, dirname } from 'node:path/posix';
import { describe, expect, it } from 'vitest';
import { filesBelow, importsOf, ROOT, readSource, type SourceFile } from './source-files.ts';

const web = filesBelow('web', ['.ts']).map(readSource);

/** Registers what the first screen is made of. */
const FIRST = 'web/elements.ts';

const isElement = (path: string): boolean =>
  /^lb-[\w-]+\.ts$/.test(basename(path)) && !path.endsWith('.styles.ts');
const isIndex = (path: string): boolean => basename(path) === 'index.ts';

/** Folder of the page that a file is in, or in a folder of; empty for those that put the page together. */
const folderOf = (path: string): string => dirname(path).split('/')[1] ?? '';

/** Lines outside every function that do something, rather than declare it. */
function deedsIn({ text }: SourceFile): string[] {
  const code = text.replace(/\/\*[\s\S]*?\*\//g, '');
  const declares =
    /^(?:import|export|const|let|(?:async )?function|(?:abstract )?class|interface|type|declare)\b/;
  return code.split('\n').filter((line) => /^[^\s/<>@})\]`]/.test(line) && !declares.test(line));
}

/** Imports at once of a file of another folder that is not the folder's index. */
function sideEntrances(files: readonly SourceFile[]): string[] {
  return files.flatMap(({ path, imports }) =>
    imports
      .filter(({ file, isLater }) => file?.startsWith('web/') === true && file.endsWith('.ts') && !isLater)
      .filter(({ file }) => folderOf(file!) !== folderOf(path) && folderOf(file!) !== '' && !isIndex(file!))
      .filter(({ file }) => !(path === FIRST && isElement(file!)))
      .map(({ file }) => `${path} imports ${file}`),
  );
}

/** Elements that an index names as more than a type. */
function elementsIn(files: readonly SourceFile[]): string[] {
  return files
    .filter(({ path }) => isIndex(path))
    .flatMap(({ path, imports }) =>
      imports
        .filter(({ file, names }) => file !== null && isElement(file) && names.length > 0)
        .map(({ file }) => `${path} names ${file}`),
    );
}

/** Files with which something begins that is fetched later. */
function fetchedLater(files: readonly SourceFile[]): ReadonlySet<string> {
  return new Set(
    files.flatMap(({ imports }) => imports.flatMap(({ file, isLater }) => (isLater ? [file ?? ''] : []))),
  );
}

/**
 * Files that are there once `start` runs, each with the one that brought it. An index brings the files of the names taken from it: so
 * does the bundler, since importing it changes nothing.
 */
function reached(files: readonly SourceFile[], start: string): ReadonlyMap<string, string> {
  const byPath = new Map(files.map((file) => [file.path, file]));
  const from = new Map([[start, '']]);
  const open = [start];
  const bring = (path: string, by: string): void => {
    if (from.has(path)) return;
    from.set(path, by);
    open.push(path);
  };
  for (let at = open.pop(); at !== undefined; at = open.pop())
    for (const { file, names, isLater, isTypeOnly } of byPath.get(at)?.imports ?? []) {
      if (file === null || isLater || isTypeOnly) continue;
      const behind = isIndex(file) ? (byPath.get(file)?.imports ?? []) : [];
      if (behind.length === 0 || names.length === 0) bring(file, at);
      // What an index does not take from elsewhere stands in it.
      else for (const name of names) bring(behind.find((one) => one.names.includes(name))?.file ?? file, at);
    }
  return from;
}

describe('entrances of the page', () => {
  it('a folder is entered by its index, but for what is fetched later and elements of the first screen', () => {
    expect(sideEntrances(web)).toEqual([]);
  });

  it('no index holds an element', () => {
    expect(web.filter(({ path }) => isIndex(path)).length).toBeGreaterThan(10);
    expect(elementsIn(web)).toEqual([]);
  });

  it('importing a file of a folder changes nothing, as the build is told: only the page and its workers begin with a deed', () => {
    const told = /const CHANGES_NOTHING = \/(.*)\/;/.exec(
      readFileSync(join(ROOT, 'vite.config.ts'), 'utf8'),
    )![1]!;
    const changesNothing = new RegExp(told);
    const files = [...web, ...filesBelow('engine', ['.ts']).map(readSource)];
    const doers = files.filter((file) => deedsIn(file).length > 0).map(({ path }) => path);
    expect(doers.sort()).toEqual([
      'web/first-sight.ts',
      'web/main.ts',
      'web/offline/service-worker.ts',
      'web/worker/engine-worker.ts',
    ]);
    const untold = files.filter(({ path }) => !changesNothing.test(path)).map(({ path }) => path);
    expect(untold.toSorted()).toEqual(['web/elements.ts', 'web/part-manifest.ts', ...doers].toSorted());
  });

  it('nothing that is fetched later is reached from the first screen', () => {
    const later = fetchedLater(web);
    const first = reached(web, 'web/main.ts');
    expect(later.size).toBeGreaterThan(40);
    expect(first.size).toBeGreaterThan(80);
    const early = [...first].filter(([path]) => later.has(path)).map(([path, by]) => `${by} brings ${path}`);
    expect(early).toEqual([]);
  });

  it('the elements of the first screen are those that are registered there', () => {
    const first = [...reached(web, 'web/main.ts').keys()].filter(isElement).sort();
    expect(first).toEqual(['web/board/lb-board.ts', 'web/pages/lb-app.ts', 'web/pages/lb-board-page.ts']);
  });

  it('a side entrance, an element in an index and an early fetch would be found', () => {
    const file = (path: string, text: string): SourceFile => ({ path, text, imports: importsOf(text, path) });
    const files = [
      file('web/main.ts', "import './elements.ts';\nimport { a } from './set/index.ts';"),
      file('web/elements.ts', "import { LbOne } from './set/lb-one.ts';\nimport { b } from './set/b.ts';"),
      file('web/set/index.ts', "export { a } from './a.ts';\nexport { LbTwo, type Two } from './lb-two.ts';"),
      file('web/set/a.ts', "const later = () => import('./lb-two.ts');"),
      file('web/set/b.ts', "import type { Two } from './lb-two.ts';"),
    ];
    const deed = file('web/set/c.ts', "const a = 1;\naddEventListener('x', () => {\n  a;\n});");
    expect(deedsIn(deed)).toEqual(["addEventListener('x', () => {"]);
    expect(sideEntrances(files)).toEqual(['web/elements.ts imports web/set/b.ts']);
    expect(elementsIn(files)).toEqual(['web/set/index.ts names web/set/lb-two.ts']);
    expect([...fetchedLater(files)]).toEqual(['web/set/lb-two.ts']);
    expect([...reached(files, 'web/main.ts').keys()]).not.toContain('web/set/lb-two.ts');
    const early = [...files, file('web/set/lb-one.ts', "import { LbTwo } from './index.ts';")];
    expect(reached(early, 'web/main.ts').get('web/set/lb-two.ts')).toBe('web/set/lb-one.ts');
  });
});
