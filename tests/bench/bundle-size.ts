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
