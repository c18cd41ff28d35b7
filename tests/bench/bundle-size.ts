/** JavaScript that a page loads before it runs: its module scripts and all they import statically. */
import { readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { gzipSync } from 'node:zlib';
import { parseSync } from 'vite';

export interface ChunkSize {
  /** Path below the folder that was built. */
  readonly file: string;
  readonly gzipBytes: number;
}

/** Sources of the scripts and preloaded modules of a built HTML page, as written there. */
export function scriptsOfPage(html: string): readonly string[] {
  const tags = html.match(/<(?:script|link)\b[^>]*>/gi) ?? [];
  return tags.flatMap((tag) => {
    const isScript = /^<script/i.test(tag);
    if (!isScript && !/\brel\s*=\s*["']?modulepreload\b/i.test(tag)) return [];
    const source = new RegExp(`\\b${isScript ? 'src' : 'href'}\\s*=\\s*["']([^"']+)["']`, 'i').exec(tag);
    return source ? [source[1]!] : [];
  });
}

/** Relative paths that a module imports statically, exports from included. @throws SyntaxError when it does not parse */
export function staticImports(file: string, code: string): readonly string[] {
  const { program, errors } = parseSync(file, code, { sourceType: 'module' });
  if (errors.length > 0) throw new SyntaxError(`${file}: ${errors[0]?.message}`);
  return program.body.flatMap((statement) => {
    if (!('source' in statement) || !statement.source) return [];
    return [statement.source.value];
  });
}

/** Relative paths that a module imports while it runs. @throws SyntaxError when it does not parse */
export function laterImports(file: string, code: string): readonly string[] {
  const { program, errors } = parseSync(file, code, { sourceType: 'module' });
  if (errors.length > 0) throw new SyntaxError(`${file}: ${errors[0]?.message}`);
  const found: string[] = [];
  const look = (node: unknown): void => {
    if (Array.isArray(node)) for (const one of node) look(one);
    else if (typeof node === 'object' && node !== null) {
      const { type, source } = node as { type?: string; source?: Source };
      if (type === 'ImportExpression' && source !== undefined) found.push(addressIn(source));
      for (const one of Object.values(node)) look(one);
    }
  };
  look(program);
  return found;
}

/** What stands between the brackets of an `import()`. */
interface Source {
  readonly type: string;
  readonly value?: unknown;
  readonly quasis?: readonly { readonly value: { readonly cooked: string | null } }[];
}

/** @throws RangeError where it is no literal: then nobody could say what is fetched */
function addressIn({ type, value, quasis = [] }: Source): string {
  const address = type === 'TemplateLiteral' && quasis.length === 1 ? quasis[0]!.value.cooked : value;
  if (typeof address !== 'string') throw new RangeError(`an import() of no literal address: ${type}`);
  return address;
}

/** What is fetched for one part of the page, beside what the page has from the start. */
export interface LaterPart {
  /** Name of its file without the hash. */
  readonly name: string;
  readonly requests: number;
  readonly gzipBytes: number;
}

/**
 * What each `import()` fetches that is reached from a page's scripts, by name.
 * @param first files that are there from the start
 * @throws RangeError when two files have one name
 */
export function laterParts(folder: string, first: readonly string[]): readonly LaterPart[] {
  const parts = new Map<string, LaterPart>();
  const seen = new Set(first);
  const open = [...first];
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    const code = readFileSync(join(folder, file), 'utf8');
    for (const address of laterImports(file, code)) {
      const begin = relative('.', join(dirname(file), address));
      const chunks = chunksFrom(folder, [begin]).filter((chunk) => !first.includes(chunk.file));
      const name = begin.replace(/^.*\/|-[\w-]{8}[.]js$/g, '');
      const gzipBytes = chunks.reduce((sum, chunk) => sum + chunk.gzipBytes, 0);
      const known = parts.get(name);
      if (known !== undefined && known.gzipBytes !== gzipBytes)
        throw new RangeError(`two files are called ${name}`);
      parts.set(name, { name, requests: chunks.length, gzipBytes });
      for (const chunk of chunks) {
        if (!seen.has(chunk.file)) open.push(chunk.file);
        seen.add(chunk.file);
      }
    }
  }
  return [...parts.values()].sort((a, b) => a.name.localeCompare(b.name, 'en'));
}

/**
 * The chunks that are loaded with a page of a built folder.
 * @param alsoLoads beginnings of the file names of chunks that the page imports dynamically but cannot do without
 * @throws RangeError when the page has no script, or none of the built files begins like one of `alsoLoads`
 */
export function chunksOfPage(
  folder: string,
  page: string,
  alsoLoads: readonly string[],
  builtFiles: readonly string[],
): readonly ChunkSize[] {
  const scripts = scriptsOfPage(readFileSync(join(folder, page), 'utf8'));
  if (scripts.length === 0) throw new RangeError(`${page} loads no script`);
  const open = scripts.map((source) => source.replace(/^\.?\//, ''));
  for (const start of alsoLoads) {
    const found = builtFiles.filter(
      (file) => file.endsWith('.js') && (file.split('/').pop() ?? '').startsWith(start),
    );
    if (found.length === 0) throw new RangeError(`no built file begins with ${JSON.stringify(start)}`);
    open.push(...found);
  }
  return chunksFrom(folder, open);
}

/** These files of a built folder and all that they import at once, the largest first. */
function chunksFrom(folder: string, files: readonly string[]): readonly ChunkSize[] {
  const open = [...files];
  const chunks = new Map<string, ChunkSize>();
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (chunks.has(file)) continue;
    const code = readFileSync(join(folder, file), 'utf8');
    chunks.set(file, { file, gzipBytes: gzipSync(code, { level: 9 }).length });
    for (const source of staticImports(file, code))
      if (source.startsWith('.')) open.push(relative('.', join(dirname(file), source)));
  }
  return [...chunks.values()].sort((a, b) => b.gzipBytes - a.gzipBytes);
}
