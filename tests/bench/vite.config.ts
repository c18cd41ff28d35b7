import { defineConfig } from 'vite';

// Bundles the benches for Node, which runs no TypeScript; a bundle keeps calls between modules as fast as in production.
// biome-ignore lint/style/noDefaultExport: the bundler reads its settings so
export default defineConfig({
  root: import.meta.dirname,
  logLevel: 'warn',
  build: {
    ssr: true,
    outDir: '../../dist/bench',
    emptyOutDir: true,
    target: 'node20',
    rolldownOptions: { input: ['tests/bench/run.ts', 'tests/bench/budget.ts'] },
  },
});
