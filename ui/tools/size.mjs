// How much the page weighs, compressed: at first sight, and with everything it may load later.
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';

// In bytes: what somebody waits for before the first page shows, and all fourteen pages together. With fonts the first
// sight is to stay under 300 kB over the wire; a page more may add about 10 kB to the rest. Chosen.
// The worker that keeps the page for when the network is away comes when the page has long been there.
const budgets = { 'first sight': 125_000, 'all scripts and styles': 280_000, worker: 7_000 };
const dist = fileURLToPath(new URL('../dist', import.meta.url));
const index = await readFile(join(dist, 'index.html'), 'utf8');
let first = 0;
let all = 0;
let fonts = 0;
let worker = 0;
for (const entry of await readdir(dist, { recursive: true, withFileTypes: true })) {
  if (!entry.isFile() || entry.name === '.gitkeep') continue;
  const body = await readFile(join(entry.parentPath, entry.name));
  if (entry.name.endsWith('.woff2')) {
    fonts += body.length;
    continue;
  }
  const size = gzipSync(body, { level: 9 }).length;
  if (entry.name === 'sw.js') {
    worker = size;
    continue;
  }
  all += size;
  if (entry.name === 'index.html' || index.includes(entry.name)) first += size;
}
const kB = (n) => `${(n / 1000).toFixed(1)} kB`;
console.log(
  `first sight ${kB(first)}, all scripts and styles ${kB(all)}, worker ${kB(worker)}, fonts ${kB(fonts)} (two files at first sight)`,
);
const measured = { 'first sight': first, 'all scripts and styles': all, worker };
for (const [what, budget] of Object.entries(budgets)) {
  if (measured[what] > budget) {
    console.error(`${what}: over the budget of ${kB(budget)}`);
    process.exitCode = 1;
  }
}
