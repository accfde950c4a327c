import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

// The server that holds the data during development: `trunnion serve` at its usual address, or another one.
const server = process.env.TRUNNION_SERVER ?? 'http://127.0.0.1:8420';

const version = (text: string | Uint8Array) => createHash('sha256').update(text).digest('hex').slice(0, 16);

/** Tells the worker every file of the page with its version: a page that was built anew takes the place of the one kept. */
function keptFiles(): Plugin {
  return {
    name: 'kept-files',
    apply: 'build',
    enforce: 'post',
    generateBundle(_, bundle) {
      const worker = bundle['sw.js'];
      if (worker?.type !== 'chunk') throw new Error('the page was built without its worker');
      if (worker.imports.length > 0) throw new Error('the worker imports: not every browser starts such a one');
      const files = Object.values(bundle)
        .filter((one) => one !== worker)
        .map((one) => ({
          url: `/${one.fileName}`,
          // Files under assets have their version in their name.
          revision: one.fileName.startsWith('assets/') ? null : version(one.type === 'chunk' ? one.code : one.source),
        }));
      for (const name of readdirSync('public').filter((one) => !one.startsWith('.')))
        files.push({ url: `/${name}`, revision: version(readFileSync(`public/${name}`)) });
      files.sort((a, b) => a.url.localeCompare(b.url));
      worker.code = worker.code.replace('self.__PAGE', JSON.stringify(files));
    },
  };
}

export default defineConfig({
  plugins: [svelte(), svelteTesting(), keptFiles()],
  build: {
    rollupOptions: {
      input: { index: 'index.html', sw: 'src/away/worker.ts' },
      // The worker's address is always the same: the browser asks there for a newer one.
      output: { entryFileNames: (chunk) => (chunk.name === 'sw' ? 'sw.js' : 'assets/[name]-[hash].js') },
    },
    // Nothing is written into the page itself: the server allows no inline script or style.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: { proxy: { '/api': server } },
  test: {
    environment: 'happy-dom',
    include: ['src/**/*.test.ts'],
    setupFiles: ['src/testing.ts'],
    // A busy machine is slow, and slow is not wrong.
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
