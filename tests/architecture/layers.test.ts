/** Who may import whom and what, read from every import in the project. */
import { existsSync } from 'node:fs';
import { join, posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { circles, filesBelow, importsOf, ROOT, readSource, type SourceFile } from './source-files.ts';

const product = ['engine', 'server', 'web'].flatMap((folder) => filesBelow(folder, ['.ts'])).map(readSource);
const byPath = new Map(product.map((file) => [file.path, file]));

/** `engine`, `engine/document`, `server` or `web`. */
function layerOf(path: string): string {
  return path.startsWith('engine/document/') ? 'engine/document' : path.split('/')[0]!;
}

/** Layers from which a layer may import, beside itself. */
const BELOW: Readonly<Record<string, readonly string[]>> = {
  engine: [],
  'engine/document': ['engine'],
  server: ['engine', 'engine/document'],
  web: ['engine', 'engine/document'],
};

/** Packages a file may import; the longest folder that fits counts. */
const PACKAGES: Readonly<Record<string, readonly string[]>> = {
  engine: [],
  'engine/document': ['yjs', 'y-protocols', 'lib0'],
  'engine/document/texts': ['yjs', 'diff'],
  server: ['node:', 'hono', '@hono/node-server'],
  'server/access': ['node:', 'hono', 'pg'],
  'server/archive': ['node:', 'hono', 'yjs', 'fflate'],
  'server/boards': ['node:', 'hono', 'yjs'],
  'server/journal': ['node:', 'hono', 'yjs'],
  'server/lessons': ['node:', 'hono', 'yjs'],
  'server/proposals': ['node:', 'hono', 'yjs'],
  'server/relay': ['node:', 'ioredis', 'lib0'],
  'server/store': ['node:', 'better-sqlite3', 'pg'],
  'server/store-command.ts': ['node:', 'yjs'],
  'server/versions': ['node:', 'hono', 'yjs'],
  'server/work': ['node:', 'yjs'],
  'server/sync': ['node:', 'ws', 'yjs', 'y-protocols', 'lib0'],
  web: ['lit'],
  'web/table': ['lit', 'lean-qr'],
  'web/sync': ['yjs', 'y-protocols', 'y-websocket', 'y-indexeddb', 'lib0'],
};

function packagesFor(path: string): readonly string[] {
  const fits = Object.keys(PACKAGES).filter((folder) => path === folder || path.startsWith(`${folder}/`));
  return PACKAGES[fits.sort((a, b) => b.length - a.length)[0]!]!;
}

/** One line for each import that a rule does not allow. */
function offences(
  files: readonly SourceFile[],
  isBad: (from: string, to: string, file: SourceFile) => boolean,
): string[] {
  return files.flatMap((file) =>
    file.imports
      .filter(({ file: target }) => target !== null && isBad(file.path, target, file))
      .map(({ specifier }) => `${file.path} imports ${specifier}`),
  );
}

describe('imports', () => {
  it('are found in every form in which they are written', () => {
    const text = `import a from './a.ts';\nimport {\n  b,\n} from '../b/index.ts';\nexport { c } from 'yjs';
import '@hono/node-server/x';\nconst d = await import('./d.ts');\nimport type { E } from './e.ts';
new Worker(new URL('./w.ts', import.meta.url));\n// import './not.ts';\n/* export * from './nor.ts' */ export const z = 1;`;
    expect(importsOf(text, 'web/x/y.ts').map(({ file, package: name }) => file ?? name)).toEqual([
      'web/x/a.ts',
      'web/b/index.ts',
      'yjs',
      '@hono/node-server',
      'web/x/e.ts',
      'web/x/d.ts',
      'web/x/w.ts',
    ]);
    expect(product.length).toBeGreaterThan(100);
    expect(product.flatMap(({ imports }) => imports).length).toBeGreaterThan(300);
  });

  it('are quoted in the one way that this test reads', () => {
    const odd = product.filter(({ text }) => /^\s*(?:import|export)\b[^'";]*\bfrom\s+["`]/m.test(text));
    expect(odd.map(({ path }) => path)).toEqual([]);
  });

  it('point down only: engine, document, then server and web beside each other', () => {
    const bad = offences(product, (from, to) => {
      const [layer, target] = [layerOf(from), layerOf(to)];
      return layer !== target && !(BELOW[layer] ?? []).includes(target);
    });
    expect(bad).toEqual([]);
  });

  it('enter another layer by its index alone', () => {
    const bad = offences(
      product,
      (from, to) =>
        layerOf(from) !== layerOf(to) &&
        to !== `${layerOf(to)}/index.ts` &&
        // The document is part of the engine and reads its folders one by one.
        !(layerOf(from) === 'engine/document' && /^engine\/\w+\/index\.ts$/.test(to)),
    );
    expect(bad).toEqual([]);
  });

  it('enter a folder that has an index by its index alone', () => {
    const bad = offences(product, (from, to) => {
      const shared = sharedFolder(from, to);
      const below = to.slice(shared.length + 1).split('/');
      // The page also fetches parts later: entrances.test.ts.
      if (layerOf(from) !== layerOf(to) || layerOf(from) === 'web' || below.length === 1) return false;
      // The first folder below the shared one is where the importing file would enter.
      const entrance = posix.join(shared, below[0]!, 'index.ts');
      return byPath.has(entrance) && to !== entrance;
    });
    expect(bad).toEqual([]);
  });

  it('leave the search for mountings from nowhere, and reach it from mount alone', () => {
    const search = 'engine/mount/search/';
    const isIn = (path: string): boolean => path.startsWith(search);
    const isBad = (from: string, to: string): boolean =>
      isIn(from) !== isIn(to) && !(/^engine\/mount\/[\w-]+\.ts$/.test(from) && to === `${search}index.ts`);
    expect(offences(product, isBad)).toEqual([]);
    expect(product.filter(({ path }) => isIn(path)).length).toBeGreaterThan(10);
    // Steps out of it, past its index, and past the folder around it are found.
    expect(isBad(`${search}anneal.ts`, 'engine/mount/progress.ts')).toBe(true);
    expect(isBad('engine/mount/lead-in.ts', `${search}anneal.ts`)).toBe(true);
    expect(isBad('engine/set/marks.ts', `${search}index.ts`)).toBe(true);
    expect(isBad('engine/mount/lead-in.ts', `${search}index.ts`)).toBe(false);
  });

  it('every folder of engine and server has an index', () => {
    const folders = new Set(
      product.map(({ path }) => posix.dirname(path)).filter((f) => /^(engine|server)/.test(f)),
    );
    expect([...folders].filter((folder) => !byPath.has(`${folder}/index.ts`))).toEqual([]);
  });

  it('name only packages that the folder may use', () => {
    const bad = product.flatMap((file) =>
      file.imports
        .filter(({ package: name }) => name !== null && !packagesFor(file.path).includes(name))
        .map(({ specifier }) => `${file.path} imports ${specifier}`),
    );
    expect(bad).toEqual([]);
  });

  it('name files that are there, with their ending', () => {
    const bad = offences(product, (_, to) => !existsSync(join(ROOT, to)));
    expect(bad).toEqual([]);
  });

  it('never come from the tests', () => {
    expect(offences(product, (_, to) => to.startsWith('tests/'))).toEqual([]);
  });

  it('go in no circle, file by file, types apart', () => {
    expect(circles(new Map(product.map((file) => [file.path, filesOf(file)])))).toEqual([]);
  });

  it('go in no circle, engine folder by engine folder', () => {
    const folders = new Map<string, Set<string>>();
    for (const file of product.filter(
      ({ path }) => path.startsWith('engine/') && path.split('/').length > 2,
    )) {
      const folder = file.path.split('/')[1]!;
      const targets = folders.get(folder) ?? new Set();
      for (const to of filesOf(file)) if (to.split('/')[1] !== folder) targets.add(to.split('/')[1]!);
      folders.set(folder, targets);
    }
    expect(circles(new Map(Array.from(folders, ([folder, to]) => [folder, [...to]])))).toEqual([]);
    expect(folders.size).toBeGreaterThan(8);
  });

  it('circles are found where there are some', () => {
    const graph = new Map([
      ['a', ['b']],
      ['b', ['c']],
      ['c', ['b', 'd']],
      ['d', []],
    ]);
    expect(circles(graph)).toEqual(['b -> c -> b']);
  });
});

/** Files that must be there when this one runs. */
function filesOf(file: SourceFile): string[] {
  return file.imports.flatMap(({ file: target, isTypeOnly }) =>
    target === null || isTypeOnly ? [] : [target],
  );
}

/** The innermost folder that holds both files. */
function sharedFolder(a: string, b: string): string {
  const [left, right] = [posix.dirname(a).split('/'), posix.dirname(b).split('/')];
  const shared: string[] = [];
  for (let i = 0; i < left.length && left[i] === right[i]; i++) shared.push(left[i]!);
  return shared.join('/');
}
