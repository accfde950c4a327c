// The real server, spoken to over HTTP on the same origin. There is no other address in the page.

import type {
  Draft,
  Job,
  JobList,
  Part,
  Revision,
  Run,
  Server,
  Session,
  Trace,
  TryRequest,
  View,
  Working,
} from './contract';
import { Problem } from './problem';

type Body = Record<string, unknown>;

async function ask<T>(
  method: string,
  path: string,
  options: { body?: unknown; headers?: Record<string, string>; signal?: AbortSignal } = {},
): Promise<T> {
  let answer: Response;
  try {
    answer = await fetch(`/api${path}`, {
      method,
      headers: {
        Accept: 'application/json, application/problem+json',
        ...(options.body === undefined ? {} : { 'Content-Type': 'application/json' }),
        ...options.headers,
      },
      body: options.body === undefined ? undefined : JSON.stringify(options.body),
      signal: options.signal,
    });
  } catch (error) {
    throw new Problem(0, error instanceof Error ? error.message : 'no answer');
  }
  const type = answer.headers.get('Content-Type') ?? '';
  const body = type.includes('json') ? ((await answer.json().catch(() => ({}))) as Body) : {};
  if (!answer.ok)
    throw new Problem(
      answer.status,
      String(body.detail ?? body.title ?? `The program answered ${answer.status}.`),
      body,
    );
  return body as T;
}

const part = encodeURIComponent;

export function httpServer(): Server {
  return {
    session: () => ask<Session>('GET', '/session'),
    login: (passphrase, person) => ask<Session>('POST', '/session', { body: { passphrase, person } }),
    logout: () => ask<undefined>('DELETE', '/session'),
    jobs: (search) => ask<JobList>('GET', `/jobs?search=${part(search)}&limit=200`),
    create: (job) => ask<Job>('POST', '/jobs', { body: job }),
    job: (id) => ask<Job>('GET', `/jobs/${part(id)}`),
    save: (id, revision, request) =>
      ask<Job>('PUT', `/jobs/${part(id)}`, { body: request, headers: { 'If-Match': `"${revision}"` } }),
    revisions: async (id) => (await ask<{ revisions: Revision[] }>('GET', `/jobs/${part(id)}/revisions`)).revisions,
    revision: async (id, revision) =>
      (await ask<{ text: string }>('GET', `/jobs/${part(id)}/revisions/${revision}`)).text,
    keepDraft: (id, draft: Draft) => ask<undefined>('PUT', `/jobs/${part(id)}/draft`, { body: draft }),
    dropDraft: (id) => ask<undefined>('DELETE', `/jobs/${part(id)}/draft`),
    attempt: (request: TryRequest, signal) => ask<View>('POST', '/try', { body: request, signal }),
    working: (key, valueId, units) =>
      ask<Working>('GET', `/views/${part(key)}/workings/${part(valueId)}?units=${units}`),
    trace: (key, build) => ask<Trace>('GET', `/views/${part(key)}/trace?build=${part(build)}`),
    catalogue: async (kind, search) =>
      (await ask<{ parts: Part[] }>('GET', `/catalogue?kind=${part(kind)}&search=${part(search)}`)).parts,
    startRun: (id, request) => ask<Run>('POST', `/jobs/${part(id)}/runs`, { body: request }),
    runs: async (id) => (await ask<{ runs: Run[] }>('GET', `/jobs/${part(id)}/runs`)).runs,
    run: (id) => ask<Run>('GET', `/runs/${part(id)}`),
    cancelRun: (id) => ask<undefined>('DELETE', `/runs/${part(id)}`),
    events: (on) => {
      // One stream a tab: browsers allow few connections to one host.
      const stream = new EventSource('/api/events');
      stream.addEventListener('run', (event) => on.run?.(JSON.parse((event as MessageEvent<string>).data) as Run));
      stream.addEventListener('saved', (event) =>
        on.saved?.(JSON.parse((event as MessageEvent<string>).data) as { job: string; revision: number; who: string }),
      );
      return () => stream.close();
    },
    fileAddress: (id) => `/api/jobs/${part(id)}/file`,
  };
}
