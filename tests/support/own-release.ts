/** A copy of what was built, of which a test may take something away, or which it may replace by a newer release. */
import {
  cpSync,
  readdirSync,
  readFileSync,
  renameSync,
  symlinkSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** Copies server and page into a folder. @returns path of the file with which the server begins */
export function copyRelease(folder: string): string {
  for (const part of ['server', 'engine', 'web'])
    cpSync(join(ROOT, 'dist', part), join(folder, 'dist', part), {
      recursive: true,
      // A packed file would go on saying what the file said before a test changed it.
      filter: (path) => !/[.](?:br|gz)$/.test(path),
    });
  for (const beside of ['package.json', 'node_modules', 'demo-data'])
    symlinkSync(join(ROOT, beside), join(folder, beside));
  return join(folder, 'dist/server/main.js');
}

/** The files of the page's parts. */
const assetsIn = (folder: string): string => join(folder, 'dist/web/assets');

/** Takes the file of a part away. @param part its name without the hash @returns puts it back */
export function takePart(folder: string, part: string): () => void {
  const found = readdirSync(assetsIn(folder)).filter((name) => name.replace(/-[\w-]{8}[.]js$/, '') === part);
  if (found.length !== 1) throw new Error(`${found.length} files are called ${part}`);
  const path = join(assetsIn(folder), found[0]!);
  const content = readFileSync(path);
  unlinkSync(path);
  return () => writeFileSync(path, content);
}

/** Puts a newer release in the place of the one that is there: every file of the page has another name, and none the former. */
export function releaseAnew(folder: string): void {
  const names = readdirSync(assetsIn(folder)).filter((name) => /[.](?:js|css)$/.test(name));
  const renamed = (text: string): string =>
    names.reduce((all, name) => all.replaceAll(name, name.replace(/[.](\w+)$/, 'n.$1')), text);
  const rewrite = (path: string): void => writeFileSync(path, renamed(readFileSync(path, 'utf8')));
  for (const name of names) {
    rewrite(join(assetsIn(folder), name));
    renameSync(join(assetsIn(folder), name), join(assetsIn(folder), renamed(name)));
  }
  rewrite(join(folder, 'dist/web/index.html'));
  const worker = join(folder, 'dist/web/service-worker.js');
  // Its version is in front of the list of files; each release has another.
  const next = renamed(readFileSync(worker, 'utf8')).replace(/\b([0-9a-f])([0-9a-f]{15})\\n/, '$2$1\\n');
  writeFileSync(worker, next);
}
