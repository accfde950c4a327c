// The house rules of the page that no linter has: no address outside this machine in what is built from, no factor
// between units (the server shows figures; the page converts none), and a lock file that names no registry.
import { readFile, readdir } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const faults = [];
let looked = 0;

for (const entry of await readdir(join(root, 'src'), { recursive: true, withFileTypes: true })) {
  if (!entry.isFile() || !/\.(ts|svelte|css)$/.test(entry.name) || entry.name.endsWith('.gen.ts')) continue;
  const path = join(entry.parentPath, entry.name);
  const lines = (await readFile(path, 'utf8')).split('\n');
  looked++;
  lines.forEach((line, k) => {
    const at = `${relative(root, path)}:${k + 1}`;
    if (/https?:\/\/(?!www\.w3\.org\/)/.test(line) && !line.includes('svelte.dev/e/'))
      faults.push(`${at}: an address outside this machine`);
    if (
      /\b(25\.4|0\.0254|175\.12\d*|4\.448\d*|0\.4535\d*|2\.2046\d*|1\.609\d*|39\.37\d*|6\.894\d*|14\.50\d*)\b/.test(
        line,
      )
    )
      faults.push(`${at}: a factor between units`);
    if (/\{@html\b|innerHTML|eval\(/.test(line) && !/test\.ts$/.test(path))
      faults.push(`${at}: text that would be run as code`);
  });
}
const index = await readFile(join(root, 'index.html'), 'utf8');
if (/<style|<script(?![^>]*\bsrc=)|\son\w+=|\sstyle=/.test(index))
  faults.push('index.html: inline script or style, which the server forbids');
const lock = await readFile(join(root, 'package-lock.json'), 'utf8');
if (/"resolved":/.test(lock))
  faults.push('package-lock.json names a registry: npm install with the .npmrc of this folder');

if (looked === 0) faults.push('no source was found to look at');
for (const fault of faults) console.error(fault);
console.log(`house rules: ${looked} files, ${faults.length} faults`);
process.exit(faults.length > 0 ? 1 : 0);
