import { defineConfig } from 'vite';

export default defineConfig({
  root: 'web',
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: true,
    // Importing a module of the engine changes nothing: so what only a panel needs is fetched with that panel.
    rolldownOptions: { treeshake: { moduleSideEffects: [{ test: /\/engine\//, sideEffects: false }] } },
  },
  worker: { format: 'es' },
});
