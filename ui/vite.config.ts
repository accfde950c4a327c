import { svelte } from '@sveltejs/vite-plugin-svelte';
import { svelteTesting } from '@testing-library/svelte/vite';
import { defineConfig } from 'vitest/config';

// The server that holds the data during development: `trunnion serve` at its usual address, or another one.
const server = process.env.TRUNNION_SERVER ?? 'http://127.0.0.1:8420';

export default defineConfig({
  plugins: [svelte(), svelteTesting()],
  build: {
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
