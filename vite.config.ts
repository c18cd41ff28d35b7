import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { relative } from 'node:path';
import { defineConfig, type Plugin } from 'vite';

const WORKER = 'service-worker.js';

/**
 * Small modules that every page needs and many later ones share. Left to the bundler each becomes a file of its own, which
 * compresses worse than all in one.
 */
const BASE = new RegExp(
  [
    'node_modules/(?:@lit/reactive-element|lit-element|lit-html/(?:node/)?(?:lit-html|directive|directive-helpers)[.]js)',
    'engine/document/(?:cells|read-presence|roles|text|wire)[.]ts',
    'engine/(?:colour/(?:contrast|srgb)|files/(?:fields|limits|parse-board)|pattern/pattern)[.]ts',
    'engine/(?:picture/(?:hitches|ink|texture-marks)|weave/(?:weave|repeat-rows))[.]ts',
    'web/board/(?:board-canvas|board-model|draw-chart|draw-head|draw-others|draw-overlay|events|light-event)[.]ts',
    'web/board/(?:head-layout|knot-sprites|knot-texture|painted-rows|pattern-layer|pin-view|repaint)[.]ts',
    'web/board/(?:talk-here|textures|theme|viewport)[.]ts',
    'web/(?:files/file-drop|icons/board-icons|styles/controls|sync/(?:api|links)|words/say-error)[.]ts',
    'web/(?:fields/(?:language-choice|redraw)|pages/first-visit)[.]ts',
    'web/visit/(?:board-header|board-visit|empty-state|go-to|open-board|save-left)[.]ts',
  ].join('|'),
);

/**
 * Importing a module of the engine, or of a folder of the page, changes nothing; only what a worker begins with does. So an index brings
 * what is taken from it and no more, and what only a panel needs is fetched with that panel.
 */
const CHANGES_NOTHING = /^(?:engine\/|web\/\w+\/(?:\w+\/)?(?!engine-worker|service-worker)[\w.-]+[.]ts$)/;

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

export default defineConfig({
  root: 'web',
  plugins: [listFiles()],
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: true,
    rolldownOptions: {
      input: { index: 'web/index.html', 'service-worker': 'web/offline/service-worker.ts' },
      output: {
        codeSplitting: { groups: [{ name: 'base', test: BASE }] },
        // Each language has a file of the same name.
        chunkFileNames: ({ facadeModuleId }) => {
          const text = /\/web\/text\/(\w+)\/([\w-]+)[.]ts$/.exec(facadeModuleId ?? '');
          return `assets/${text === null ? '[name]' : `${text[1]}-${text[2]}`}-[hash].js`;
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
