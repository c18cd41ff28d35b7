/** The shape of the repository, checked: who may import whom, how long a file may be, what the lock file holds. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { dirname, join, normalize, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

interface Import {
  readonly file: string;
  readonly from: string;
  /** Only types, gone once compiled. */
  readonly isTypeOnly: boolean;
}

const files = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard', '*.ts'], {
  cwd: ROOT,
  encoding: 'utf8',
})
  .split('\n')
  .filter((name) => name !== '' && !name.endsWith('.d.ts'));

function read(file: string): string | null {
  try {
    return readFileSync(join(ROOT, file), 'utf8');
  } catch (cause) {
    // Listed by git, but deleted in the working tree.
    if ((cause as NodeJS.ErrnoException).code === 'ENOENT') return null;
    throw cause;
  }
}

const sources = new Map(
  files.flatMap((file) => [[file, read(file)] as const]).filter(([, text]) => text !== null) as [
    string,
    string,
  ][],
);

const imports: Import[] = [...sources].flatMap(([file, text]) =>
  [
    ...text.matchAll(
      /^\s*(?:import|export)\b[^'"`;]*?from\s*['"]([^'"]+)['"]|import\(\s*['"]([^'"]+)['"]\s*\)|^\s*import\s+['"]([^'"]+)['"]/gm,
    ),
  ].map((match) => ({
    file,
    from: (match[1] ?? match[2] ?? match[3])!,
    isTypeOnly: /^\s*(?:import|export)\s+type\b/.test(match[0]),
  })),
);

type Layer = 'engine' | 'document' | 'server' | 'web' | 'tests' | 'top';

function layerOf(path: string): Layer {
  if (path.startsWith('engine/document/')) return 'document';
  const top = path.split('/')[0];
  return top === 'engine' || top === 'server' || top === 'web' || top === 'tests' ? top : 'top';
}

/** What each layer may import besides itself. */
const MAY_IMPORT: Readonly<Record<Layer, readonly Layer[]>> = {
  engine: [],
  document: ['engine'],
  server: ['engine', 'document'],
  web: ['engine', 'document'],
  tests: ['engine', 'document', 'server', 'web'],
  top: [],
};

/** Packages that each layer may import; null = any. */
const PACKAGES: Readonly<Record<Layer, RegExp | null>> = {
  engine: /^$/,
  document: /^(yjs|y-protocols|lib0)(\/|$)/,
  server: /^(node:|hono(\/|$)|@hono\/|ws$|better-sqlite3$|pg$|ioredis$|yjs$|y-protocols\/|lib0\/)/,
  web: /^(lit(\/|$)|yjs$|y-protocols\/|lib0\/|y-websocket$|y-indexeddb$|virtual:|lucide)/,
  tests: null,
  top: null,
};

const targetOf = ({ file, from }: Pick<Import, 'file' | 'from'>): string =>
  normalize(join(dirname(file), from));

describe('layers', () => {
  it('reads the imports it is to check', () => {
    expect(imports.length).toBeGreaterThan(300);
    for (const layer of ['engine', 'document', 'server', 'web', 'tests'] as const)
      expect(imports.some(({ file }) => layerOf(file) === layer)).toBe(true);
  });

  it('imports point down only', () => {
    const upward = imports.filter(({ file, from }) => {
      if (!from.startsWith('.')) return false;
      const [own, other] = [layerOf(file), layerOf(targetOf({ file, from }))];
      return own !== other && !MAY_IMPORT[own].includes(other);
    });
    expect(upward).toEqual([]);
  });

  it('each layer imports only its packages', () => {
    const foreign = imports.filter(({ file, from }) => {
      const allowed = PACKAGES[layerOf(file)];
      return !from.startsWith('.') && allowed !== null && !allowed.test(from);
    });
    expect(foreign).toEqual([]);
  });

  it('folders of the engine import each other through their index only', () => {
    const inside = imports.filter(({ file, from }) => {
      if (!from.startsWith('.') || layerOf(file) === 'tests') return false;
      const target = targetOf({ file, from });
      if (layerOf(target) !== 'engine' && layerOf(target) !== 'document') return false;
      const [own, other] = [dirname(file), dirname(target)];
      const isSameFolder = own === other || (layerOf(file) === 'document' && layerOf(target) === 'document');
      return !isSameFolder && !target.endsWith('/index.ts');
    });
    expect(inside).toEqual([]);
  });

  it('no file imports itself by way of others', () => {
    const edges = new Map<string, string[]>();
    for (const { file, from, isTypeOnly } of imports) {
      if (!from.startsWith('.') || isTypeOnly || layerOf(file) === 'tests') continue;
      const list = edges.get(file) ?? [];
      list.push(targetOf({ file, from }));
      edges.set(file, list);
    }
    const state = new Map<string, 'open' | 'done'>();
    const cycles: string[] = [];
    const walk = (file: string, path: readonly string[]): void => {
      if (state.get(file) === 'done') return;
      if (state.get(file) === 'open') {
        cycles.push([...path.slice(path.indexOf(file)), file].join(' -> '));
        return;
      }
      state.set(file, 'open');
      for (const next of edges.get(file) ?? []) walk(next, [...path, file]);
      state.set(file, 'done');
    };
    for (const file of edges.keys()) walk(file, []);
    expect(cycles).toEqual([]);
  });
});

describe('files', () => {
  it('have at most 500 lines', () => {
    const long = [...sources]
      .map(([file, text]) => [file, text.split('\n').length] as const)
      .filter(([, lines]) => lines > 501);
    expect(long).toEqual([]);
  });

  it('list their exports by name', () => {
    expect([...sources].filter(([, text]) => /^export \*/m.test(text)).map(([file]) => file)).toEqual([]);
  });

  it('leave no open ends and skip no test', () => {
    const own = relative(ROOT, fileURLToPath(import.meta.url));
    const open = [...sources].filter(
      ([file, text]) =>
        file !== own && /\b(?:it|test|describe)\.(?:skip|only|todo)\b|\bTODO\b|\bFIXME\b/.test(text),
    );
    expect(open.map(([file]) => file)).toEqual([]);
  });

  it('the lock file names no download addresses', () => {
    expect(read('package-lock.json')).not.toMatch(/"resolved": *"https?:/);
  });
});
