import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, constants, gzip } from 'node:zlib';
import { build, defineConfig, type Plugin } from 'vite';

const WORKER = 'service-worker.js';

/**
 * What is there from the start is one file. Left to the bundler, each small module of it that a later part shares becomes a file of its
 * own, which compresses worse than all in one. The manifest stays out with who reads it: it names all other files, and
 * would give this one another name with every change of any.
 */
const APART = /web\/(?:index[.]html|(?:main|elements|part-manifest|offline\/service-worker)[.]ts)$/;

/**
 * Importing a module of the engine, or of a folder of the page, changes nothing; only what a worker begins with does. So an index brings
 * what is taken from it and no more, and what only a panel needs is fetched with that panel.
 */
const CHANGES_NOTHING = /^(?:engine\/|web\/\w+\/(?:\w+\/)?(?!engine-worker|service-worker)[\w.-]+[.]ts$)/;

/** Names of the files that are fetched later. */
const PARTS = new Set(
  [...readFileSync('web/part-manifest.ts', 'utf8').matchAll(/import\('[\w./-]*?([\w-]+)[.]ts'\)/g)].map(
    ([, name]) => name,
  ),
);

/** Writes into the service worker which files make up the page, and a version that changes with any of them. */
function listFiles(): Plugin {
  return {
    name: 'list-files-for-offline',
    apply: 'build',
    enforce: 'post',
    generateBundle(_options, bundle) {
      const worker = bundle[WORKER];
      if (worker?.type !== 'chunk') throw new Error(`the build made no ${WORKER}`);
      const built = Object.keys(bundle).filter((name) => name !== WORKER && !name.endsWith('.map'));
      const given = readdirSync('web/public').filter((name) => name !== 'screenshot.png');
      const hash = createHash('sha256').update(worker.code);
      for (const name of built.sort()) {
        const file = bundle[name]!;
        hash.update(name).update(file.type === 'chunk' ? file.code : file.source);
      }
      for (const name of given.sort()) hash.update(name).update(readFileSync(`web/public/${name}`));
      const addresses = [...built, ...given].map((name) => (name === 'index.html' ? '/' : `/${name}`));
      const list = [hash.digest('hex').slice(0, 16), ...addresses].join('\\n');
      const code = worker.code.replace('__FILES__', list);
      if (code === worker.code) throw new Error(`${WORKER} has no place for the list of files`);
      worker.code = code;
    },
  };
}

/** lib0 describes kinds of nodes that nobody here asks about, and would bring all of its schemas for them: 2 KB, packed. */
function withoutSchemas(): Plugin {
  return {
    name: 'without-schemas',
    apply: 'build',
    transform: {
      filter: { id: /\/lib0\/dom[.]js$/ },
      handler: (code) => code.replaceAll('= $.$custom(', '= /* @__PURE__ */ $.$custom('),
    },
  };
}

/** Messages of lib0 go to the console without colours, for which it would ask address, memory and process: 0.5 KB, packed. */
function withoutColours(): Plugin {
  return {
    name: 'without-colours',
    apply: 'build',
    transform: {
      filter: { id: /\/lib0\/environment[.]js$/ },
      handler: (code) => {
        const plain = code
          .replace(/(export const isNode = )[\s\S]*?(?=\n\n)/, '$1false')
          .replace(/(export const supportsColor = )[\s\S]*?\n\)/, '$1false');
        if (plain.match(/ = false\b/g)?.length !== 2) throw new Error('lib0 asks for colours in another way');
        return plain;
      },
    },
  };
}

/** The script in a file, with all it imports, as one that can stand in the HTML. */
async function scriptOf(input: string): Promise<string> {
  const built = await build({
    configFile: false,
    logLevel: 'warn',
    build: {
      write: false,
      target: 'es2022',
      modulePreload: false,
      rolldownOptions: {
        input,
        output: { format: 'iife' },
        treeshake: { moduleSideEffects: (id) => relative(import.meta.dirname, id) === input },
      },
    },
  });
  const output = 'output' in built ? built.output : Array.isArray(built) ? built[0]!.output : [];
  const chunks = output.filter((one) => one.type === 'chunk');
  if (chunks.length !== 1) throw new Error(`${input} was built to ${chunks.length} scripts`);
  const code = chunks[0]!.code.trim();
  if (/<\/script/i.test(code)) throw new Error(`${input} would end its own element`);
  return code;
}

/** Puts into the page what is to be seen before anything else has come: the styles of all, and the first script. */
function firstSight(): Plugin {
  let isBuild = false;
  return {
    name: 'first-sight',
    configResolved: ({ command }) => {
      isBuild = command === 'build';
    },
    transformIndexHtml: async (html) => {
      const tokens = readFileSync('web/styles/tokens.css', 'utf8');
      const code = tokens
        .replace(/\/\*[\s\S]*?\*\//g, '')
        .replace(/\s+/g, ' ')
        .trim();
      const filled = html
        .replace('<!--styles-->', () => `<style>${code}</style>`)
        .replace('<!--first-sight-->', () => (isBuild ? `<script>__SCRIPT__</script>` : ''));
      const script = isBuild ? await scriptOf('web/first-sight.ts') : '';
      return filled.replace('__SCRIPT__', () => script);
    },
  };
}

const PACKED = /[.](?:js|css|svg|webmanifest)$/;

/** Lays each text beside itself in packed form, as browsers take it: once here, not at each request. */
function pack(folder: string): Plugin {
  return {
    name: 'pack',
    apply: 'build',
    closeBundle: async () => {
      const files = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter((name) =>
        PACKED.test(name),
      );
      await Promise.all(
        files.map(async (name) => {
          const bytes = readFileSync(join(folder, name));
          const best = { params: { [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY } };
          writeFileSync(join(folder, `${name}.br`), await promisify(brotliCompress)(bytes, best));
          writeFileSync(join(folder, `${name}.gz`), await promisify(gzip)(bytes, { level: 9 }));
        }),
      );
    },
  };
}

export default defineConfig({
  root: 'web',
  plugins: [withoutSchemas(), withoutColours(), listFiles(), firstSight(), pack('dist/web')],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: true,
    modulePreload: {
      // Browsers that know no preloading fetch the same a little later.
      polyfill: false,
      // A part brings along what it imports; what is there from the start it need not name.
      resolveDependencies: (_file, deps, { hostType }) =>
        hostType === 'html' ? deps : deps.filter((dep) => !/\/base-[\w-]+[.](?:js|css)$/.test(dep)),
    },
    rolldownOptions: {
      input: { index: 'web/index.html', 'service-worker': 'web/offline/service-worker.ts' },
      output: {
        codeSplitting: { groups: [{ name: 'base', tags: ['$initial'], test: (id) => !APART.test(id) }] },
        // Each language has a file of the same name. What parts share is asked for by nobody, and the list of all names is fetched first.
        chunkFileNames: ({ name, facadeModuleId, isDynamicEntry }) => {
          const text = /\/web\/text\/(\w+)\/([\w-]+)[.]ts$/.exec(facadeModuleId ?? '');
          if (text !== null) return `assets/${text[1]}-${text[2]}-[hash].js`;
          return `assets/${isDynamicEntry || name === 'base' || PARTS.has(name) ? '[name]' : 'shared'}-[hash].js`;
        },
        entryFileNames: ({ name }) => (name === 'service-worker' ? WORKER : 'assets/[name]-[hash].js'),
      },
      treeshake: {
        moduleSideEffects: (id) =>
          CHANGES_NOTHING.test(relative(import.meta.dirname, id)) ? false : undefined,
      },
    },
  },
  worker: { format: 'es' },
});
