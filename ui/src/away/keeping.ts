// The server as the pages ask it, with the last answers kept beside it: while the network is away a page that only reads
// is given what was answered last, and says from when that is. Nothing that is computed anew is made up.

import type { Server } from '../api/contract';
import { Problem } from '../api/problem';
import { whose } from '../state/kept';
import type { Network } from './network.svelte';

// Nobody waits for the shelf before a page shows: it comes when there is something to put on it.
const shelf = () => import('./answers');

const rest = 900; // ms without another answer of the same kind before it is written down: nothing is kept per key press

// What is answered again as it was, by what was asked.
const again = [
  'jobs',
  'job',
  'measuring',
  'workshop',
  'symptoms',
  'people',
  'presets',
  'allParts',
  'catalogue',
  'revisions',
  'revision',
  'records',
  'nearest',
  'history',
  'due',
  'typical',
] as const satisfies readonly (keyof Server)[];

/** What a page shows last, by the job it is of: the answer itself, whatever was asked. */
export type Shown = 'view' | 'scales' | 'sheet';

export function keeping(server: Server, network: Network): Server {
  const waiting = new Map<string, ReturnType<typeof setTimeout>>();
  const write = (what: string, value: unknown, by: string) => {
    const key = `${by} ${what}`;
    clearTimeout(waiting.get(key));
    waiting.set(
      key,
      setTimeout(() => {
        waiting.delete(key);
        // Whoever it was answered to may have signed out meanwhile.
        if (by === whose()) void shelf().then((to) => to.keepAnswer(by, what, value));
      }, rest),
    );
  };
  const heard = async <T>(asked: Promise<T>, signal?: AbortSignal): Promise<T> => {
    try {
      const got = await asked;
      network.answered();
      return got;
    } catch (error) {
      if (error instanceof Problem && !signal?.aborted) {
        if (error.unreachable) network.lost();
        else network.answered();
      }
      throw error;
    }
  };

  const out = { ...server } as Record<string, unknown>;
  for (const [name, ask] of Object.entries(server) as [keyof Server, (...args: unknown[]) => unknown][]) {
    if (name === 'events' || name === 'fileAddress' || name === 'measureAddress' || name === 'lastShown') continue;
    out[name] = (...args: unknown[]) =>
      heard(
        ask(...args) as Promise<unknown>,
        args.find((one): one is AbortSignal => one instanceof AbortSignal),
      );
  }
  for (const name of again) {
    const ask = out[name] as (...args: unknown[]) => Promise<unknown>;
    out[name] = async (...args: unknown[]) => {
      const what = [name, ...args.map((one) => JSON.stringify(one))].join(' ');
      const by = whose();
      try {
        const got = await ask(...args);
        write(what, got, by);
        return got;
      } catch (error) {
        if (!(error instanceof Problem) || !error.unreachable) throw error;
        const kept = await (await shelf()).lastAnswer(by, what);
        if (!kept || by !== whose()) throw error;
        network.shown(kept.at);
        return kept.value;
      }
    };
  }

  const of = (what: Shown, job: string) => `${what} of ${job}`;
  const { attempt, scales, sheet } = out as unknown as Server;
  return {
    ...(out as unknown as Server),
    attempt: async (request, signal) => {
      const [by, job] = [whose(), openJob()];
      const got = await attempt(request, signal);
      if (job !== '' && got.builds.length > 0) write(of('view', job), got, by);
      return got;
    },
    scales: async (id, settings, draft, signal) => {
      const by = whose();
      const got = await scales(id, settings, draft, signal);
      // A round that is being typed is on this machine already; what was answered to it is nobody's last word.
      if (!draft) write(of('scales', id), got, by);
      return got;
    },
    sheet: async (request) => {
      const by = whose();
      const got = await sheet(request);
      if (request.job) write(of('sheet', request.job), got, by);
      return got;
    },
    lastShown: async <T>(what: Shown, job: string) => {
      const kept = await (await shelf()).lastAnswer<T>(whose(), of(what, job));
      if (!kept) return null;
      network.shown(kept.at);
      return kept.value;
    },
  };
}

/** The job whose pages are open, as the address says; empty where it is none. */
const openJob = (): string => decodeURIComponent(/^\/jobs\/([^/]+)/u.exec(location.pathname)?.[1] ?? '');
