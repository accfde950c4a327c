// Starts the program itself on a data folder of its own, and stops it.
import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import http from 'node:http';
import https from 'node:https';
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

/** Whether somebody answers there; a certificate of its own making is no reason to say no. */
function answers(address) {
  const { request } = address.startsWith('https') ? https : http;
  return new Promise((yes, no) => {
    const asked = request(`${address}/api/session`, { rejectUnauthorized: false }, (response) => {
      response.resume();
      yes(response.statusCode === 200);
    });
    asked.on('error', no);
    asked.end();
  });
}

/** Adds somebody to a workshop whose program is not running. */
export async function person(folder, name, role, passphrase) {
  const child = spawn(binary, ['person', name, '--role', role, '--passphrase', '--data', folder], {
    stdio: ['pipe', 'pipe', 'pipe'],
  });
  let said = '';
  child.stdout.on('data', (chunk) => (said += chunk));
  child.stderr.on('data', (chunk) => (said += chunk));
  child.stdin.end(`${passphrase}\n`);
  const code = await new Promise((done) => child.on('exit', done));
  if (code !== 0) throw new Error(`nobody was added: ${said}`);
}

export async function start(options = {}) {
  const folder = options.folder ?? (await mkdtemp(join(tmpdir(), 'trunnion-journey-')));
  const port = options.port ?? (await freePort());
  const child = spawn(
    binary,
    [
      'serve',
      '--data',
      folder,
      '--listen',
      `${options.host ?? '127.0.0.1'}:${port}`,
      '--no-open',
      ...(options.flags ?? []),
    ],
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
  const address = `${options.tls ? 'https' : 'http'}://127.0.0.1:${port}`;
  const ready = (async () => {
    for (let k = 0; k < 1200; k++) {
      try {
        if (await answers(address)) return;
      } catch {
        // not yet
      }
      await new Promise((again) => setTimeout(again, 50));
    }
    throw new Error(`the program did not answer within a minute: ${said}`);
  })();
  await Promise.race([ready, failed]);
  const stop = async () => {
    child.removeAllListeners('exit');
    if (child.exitCode === null) {
      const gone = new Promise((done) => child.once('exit', done));
      child.kill('SIGTERM');
      const late = setTimeout(() => child.kill('SIGKILL'), 60_000);
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
