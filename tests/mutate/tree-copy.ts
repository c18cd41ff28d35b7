/** A copy of a checkout in which sources may be changed: the checkout itself is never written to. */
import { cpSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { type CommandEnd, runNode } from './run-command.ts';

const LEFT_OUT = new Set(['node_modules', '.git', 'dist', 'data']);
const LIMIT_MS = 600_000;

/** What of the build does not go through. */
export interface BuildFault {
  /** `types` of the product, `test types`, or the `bundle` of the page. */
  readonly step: 'types' | 'test types' | 'bundle';
  readonly output: string;
}

export class TreeCopy {
  readonly root: string;
  readonly #tree: string;

  /** Copies the tree; packages are linked one by one, so that caches beside them are the copy's own. */
  constructor(tree: string, root: string) {
    this.#tree = tree;
    this.root = root;
    cpSync(tree, root, { recursive: true, filter: (from) => !LEFT_OUT.has(relative(tree, from)) });
    mkdirSync(join(root, 'node_modules'));
    mkdirSync(join(root, 'dist'));
    for (const name of readdirSync(join(tree, 'node_modules')))
      if (!name.startsWith('.vite'))
        symlinkSync(join(tree, 'node_modules', name), join(root, 'node_modules', name));
  }

  original(file: string): string {
    return readFileSync(join(this.#tree, file), 'utf8');
  }

  write(file: string, text: string): void {
    writeFileSync(join(this.root, file), text);
  }

  restore(file: string): void {
    this.write(file, this.original(file));
  }

  /** Builds what changed, as `npm run build` does. @returns the first step that does not go through, or null */
  async build(): Promise<BuildFault | null> {
    const product = await this.#run('typescript/bin/tsc', '-b', 'engine', 'engine/document', 'server', 'web');
    if (product.code !== 0) return { step: 'types', output: product.output };
    const all = await this.#run('typescript/bin/tsc', '-b');
    if (all.code !== 0) return { step: 'test types', output: all.output };
    const bundle = await this.#run('vite/bin/vite.js', 'build', '--logLevel', 'warn');
    return bundle.code === 0 ? null : { step: 'bundle', output: bundle.output };
  }

  #run(program: string, ...args: string[]): Promise<CommandEnd> {
    return runNode([join('node_modules', program), ...args], { cwd: this.root, limitMs: LIMIT_MS });
  }
}
