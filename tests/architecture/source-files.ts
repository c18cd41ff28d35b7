/** The project's source files and what each imports, read from the text. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, posix, sep } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

export interface Import {
  /** As written. */
  readonly specifier: string;
  /** Path from the root, for an import of a file of the project. */
  readonly file: string | null;
  /** Name of the package, or `node:…`, for any other. */
  readonly package: string | null;
  /** Gone once compiled. */
  readonly isTypeOnly: boolean;
  /** Not there from the start: an `import()`, or a worker. */
  readonly isLater: boolean;
  /** What it takes by name, types apart, as the other file calls it; empty where that is not said. */
  readonly names: readonly string[];
}

export interface SourceFile {
  /** Path from the root, with `/`. */
  readonly path: string;
  readonly text: string;
  readonly imports: readonly Import[];
}

/** Paths from the root of all files below a folder with one of the endings. */
export function filesBelow(folder: string, endings: readonly string[]): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && endings.some((ending) => entry.name.endsWith(ending)))
    .map((entry) => join(entry.parentPath, entry.name).slice(ROOT.length).split(sep).join('/'))
    .sort();
}

export function readSource(path: string): SourceFile {
  const text = readFileSync(join(ROOT, path), 'utf8');
  return { path, text, imports: importsOf(text, path) };
}

const STATEMENT = /^\s*(?:import|export)\s(type\s)?(?:([^'";]*?)\sfrom\s+)?'([^']+)'/gm;
const CALL = /\bimport\(\s*'([^']+)'|new URL\(\s*'([^']+\.ts)',\s*import\.meta\.url/g;

/** The names between the braces of an import or a re-export. */
function namesIn(taken: string): string[] {
  const listed = /\{([^}]*)\}/.exec(taken)?.[1] ?? '';
  return listed
    .split(',')
    .map((entry) => entry.trim())
    .filter((entry) => entry !== '' && !entry.startsWith('type '))
    .map((entry) => entry.replace(/ as .*$/, ''));
}

/** Imports, re-exports, dynamic imports and workers named by address; comments are left out. */
export function importsOf(text: string, path: string): Import[] {
  const code = text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/^\s*\/\/.*$/gm, '');
  const found = [
    ...Array.from(code.matchAll(STATEMENT), ([, type, taken = '', specifier]) => ({
      specifier: specifier!,
      type,
      names: type === undefined ? namesIn(taken) : [],
      isLater: false,
    })),
    ...Array.from(code.matchAll(CALL), ([, called, worker]) => ({
      specifier: (called ?? worker)!,
      type: undefined,
      names: [],
      isLater: true,
    })),
  ];
  return found.map(({ specifier, type, ...how }) => {
    const isTypeOnly = type !== undefined;
    if (specifier.startsWith('.')) {
      const file = posix.join(posix.dirname(path), specifier.replace(/\?.*$/, ''));
      return { specifier, file, package: null, isTypeOnly, ...how };
    }
    const parts = specifier.split('/');
    const name = specifier.startsWith('@') ? parts.slice(0, 2).join('/') : parts[0]!;
    return { specifier, file: null, package: name.startsWith('node:') ? 'node:' : name, isTypeOnly, ...how };
  });
}

/** Each circle met on a walk through the graph, as text. */
export function circles(graph: ReadonlyMap<string, readonly string[]>): string[] {
  const found: string[] = [];
  const done = new Set<string>();
  const walk = (node: string, trail: readonly string[]): void => {
    const at = trail.indexOf(node);
    if (at >= 0) {
      found.push([...trail.slice(at), node].join(' -> '));
      return;
    }
    if (done.has(node)) return;
    for (const next of graph.get(node) ?? []) walk(next, [...trail, node]);
    done.add(node);
  };
  for (const node of graph.keys()) walk(node, []);
  return found;
}
