// Starts the program itself on a data folder of its own, and stops it.
import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const binary = process.env.TRUNNION ?? fileURLToPath(new URL('../../bin/trunnion', import.meta.url));

async function freePort() {
  const server = createServer();
  await new Promise((ready) => server.listen(0, '127.0.0.1', ready));
  const { port } = server.address();
  await new Promise((done) => server.close(done));
  return port;
}

export async function start(options = {}) {
  const folder = options.folder ?? (await mkdtemp(join(tmpdir(), 'trunnion-journey-')));
  const port = options.port ?? (await freePort());
  const child = spawn(
    binary,
    ['serve', '--data', folder, '--listen', `127.0.0.1:${port}`, '--no-open', ...(options.flags ?? [])],
    {
      stdio: ['ignore', 'pipe', 'pipe'],
    },
  );
  let said = '';
  child.stdout.on('data', (chunk) => (said += chunk));
  child.stderr.on('data', (chunk) => (said += chunk));
  const failed = new Promise((_, reject) => {
    child.on('error', (error) => reject(new Error(`${binary} cannot be started (build it first): ${error.message}`)));
    child.on('exit', (code) => reject(new Error(`the program ended with ${code}: ${said}`)));
  });
  failed.catch(() => undefined);
  const address = `http://127.0.0.1:${port}`;
  const ready = (async () => {
    for (let k = 0; k < 200; k++) {
      try {
        if ((await fetch(`${address}/api/session`)).ok) return;
      } catch {
        // not yet
      }
      await new Promise((again) => setTimeout(again, 50));
    }
    throw new Error(`the program did not answer within ten seconds: ${said}`);
  })();
  await Promise.race([ready, failed]);
  const stop = async () => {
    child.removeAllListeners('exit');
    if (child.exitCode === null) {
      const gone = new Promise((done) => child.once('exit', done));
      child.kill('SIGTERM');
      const late = setTimeout(() => child.kill('SIGKILL'), 5000);
      await gone;
      clearTimeout(late);
    }
  };
  return {
    address,
    port,
    folder,
    stop,
    remove: async () => {
      await stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
