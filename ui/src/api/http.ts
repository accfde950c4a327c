// The real server, spoken to over HTTP on the same origin, by the types of its own description. There is no other address
// in the page.

import createClient from 'openapi-fetch';
import type { Draft, Saved, SearchTold, Server } from './contract';
import { Problem } from './problem';
import type { paths } from './schema.gen';

interface Answer<T> {
  data?: T;
  error?: unknown;
  response: Response;
}

/** What was asked for, or what was refused and why. */
async function got<T>(asked: Promise<Answer<T>>): Promise<T> {
  let answer: Answer<T>;
  try {
    answer = await asked;
  } catch (error) {
    throw new Problem(0, error instanceof Error ? error.message : 'no answer');
  }
  const { data, error, response } = answer;
  if (response.ok) return data as T;
  const body = typeof error === 'object' && error !== null ? (error as Record<string, unknown>) : {};
  // The session has ended: whoever is at the page is asked who they are; what was typed stays as a draft.
  if (response.status === 401) dispatchEvent(new CustomEvent('shut-out'));
  const said = body.detail ?? body.title;
  throw new Problem(
    response.status,
    typeof said === 'string' ? said : `The program answered ${response.status}.`,
    body,
  );
}

export function httpServer(): Server {
  // Not kept: a test, or a page that was asleep, may have put another fetch in its place.
  const api = createClient<paths>({ fetch: (request) => globalThis.fetch(request) });
  const at = (id: string) => ({ params: { path: { id } } });
  return {
    session: () => got(api.GET('/api/session')),
    login: (passphrase, person) => got(api.POST('/api/session', { body: { passphrase, person } })),
    logout: async () => void (await got(api.DELETE('/api/session'))),
    jobs: (search) => got(api.GET('/api/jobs', { params: { query: { search, limit: 200 } } })),
    create: (body) => got(api.POST('/api/jobs', { body })),
    job: (id) => got(api.GET('/api/jobs/{id}', at(id))),
    save: (id, revision, body) =>
      got(api.PUT('/api/jobs/{id}', { params: { path: { id }, header: { 'If-Match': `"${revision}"` } }, body })),
    revisions: async (id) => (await got(api.GET('/api/jobs/{id}/revisions', at(id)))).revisions,
    revision: async (id, n) =>
      (await got(api.GET('/api/jobs/{id}/revisions/{n}', { params: { path: { id, n } } }))).text,
    keepDraft: async (id, body: Draft) => void (await got(api.PUT('/api/jobs/{id}/draft', { ...at(id), body }))),
    dropDraft: async (id) => void (await got(api.DELETE('/api/jobs/{id}/draft', at(id)))),
    attempt: (body, signal) => got(api.POST('/api/try', { body, signal })),
    plan: (key, build, units) =>
      got(api.GET('/api/views/{key}/plans/{build}', { params: { path: { key, build }, query: { units } } })),
    working: (key, value, units) =>
      got(api.GET('/api/views/{key}/workings/{value}', { params: { path: { key, value }, query: { units } } })),
    corner: (body, signal) => got(api.POST('/api/corner', { body, signal })),
    struts: (body) => got(api.POST('/api/struts', { body })),
    linkage: (body) => got(api.POST('/api/linkage', { body })),
    dampers: (body) => got(api.POST('/api/dampers', { body })),
    damperPresets: (body) => got(api.POST('/api/dampers/presets', { body })),
    damperTarget: (body) => got(api.POST('/api/dampers/target', { body })),
    damperOrder: (body) => got(api.POST('/api/dampers/order', { body })),
    damperSweeps: (body) => got(api.POST('/api/dampers/sweeps', { body })),
    damperAccept: (body) => got(api.POST('/api/dampers/accept', { body })),
    startSearch: (id, body) => got(api.POST('/api/jobs/{id}/searches', { ...at(id), body })),
    newestSearch: (id, units) =>
      got(api.GET('/api/jobs/{id}/searches', { params: { path: { id }, query: { units } } })),
    search: (id, units) => got(api.GET('/api/searches/{id}', { params: { path: { id }, query: { units } } })),
    cancelSearch: async (id) => void (await got(api.DELETE('/api/searches/{id}', at(id)))),
    roadTest: (body) => got(api.POST('/api/roadtest', { body })),
    roadTestExamples: async () => (await got(api.GET('/api/roadtest/examples'))).files,
    damperExamples: async () => (await got(api.GET('/api/dampers/examples'))).files,
    measuring: (units) => got(api.GET('/api/measuring', { params: { query: { units } } })),
    trace: (key, build) => got(api.GET('/api/views/{key}/trace', { params: { path: { key }, query: { build } } })),
    catalogue: async (kind, search) =>
      (await got(api.GET('/api/catalogue', { params: { query: { kind, search } } }))).parts,
    presets: async () => (await got(api.GET('/api/presets'))).presets,
    allParts: async (search) =>
      (await got(api.GET('/api/catalogue', { params: { query: { search, all: true } } }))).parts,
    savePart: (body) => got(api.PUT('/api/catalogue', { body })),
    readParts: (body) => got(api.POST('/api/catalogue/list', { body })),
    partsFile: (kind, format) =>
      got(api.GET('/api/catalogue/file', { params: { query: { kind: kind as 'spring', format } } })),
    savePreset: (body) => got(api.PUT('/api/presets', { body })),
    keepPart: (body) => got(api.POST('/api/catalogue/keep', { body })),
    keepPreset: (body) => got(api.POST('/api/presets/keep', { body })),
    sheet: (body) => got(api.POST('/api/sheet', { body })),
    workshop: () => got(api.GET('/api/workshop')),
    due: async () => (await got(api.GET('/api/due'))).due,
    saveWorkshop: (body) => got(api.PUT('/api/workshop', { body })),
    symptoms: () => got(api.GET('/api/symptoms')),
    support: (body) => got(api.POST('/api/support', { body })),
    records: (id) => got(api.GET('/api/jobs/{id}/records', at(id))),
    nearest: (id, units) => got(api.GET('/api/jobs/{id}/nearest', { params: { path: { id }, query: { units } } })),
    addNote: (id, body) => got(api.POST('/api/jobs/{id}/notes', { ...at(id), body })),
    history: (id) => got(api.GET('/api/jobs/{id}/history', at(id))),
    way: (id, body) => got(api.POST('/api/jobs/{id}/way', { ...at(id), body })),
    remeasure: (id, body) => got(api.POST('/api/jobs/{id}/remeasure', { ...at(id), body })),
    backups: () => got(api.GET('/api/backups')),
    backUp: () => got(api.POST('/api/backups')),
    typical: async () => (await got(api.GET('/api/typical'))).cars,
    people: async () => (await got(api.GET('/api/people'))).people,
    savePerson: (body) => got(api.POST('/api/people', { body })),
    scales: (id, settings, draft, signal) =>
      got(api.POST('/api/jobs/{id}/scales/next', { ...at(id), body: { settings, draft }, signal })),
    keepRound: (id, body) => got(api.POST('/api/jobs/{id}/scales/rounds', { ...at(id), body })),
    withdrawRound: (id, round, why, who, settings) =>
      got(
        api.POST('/api/jobs/{id}/scales/rounds/{round}/withdraw', {
          params: { path: { id, round } },
          body: { why, who, settings },
        }),
      ),
    lift: (id, body) => got(api.POST('/api/jobs/{id}/scales/lift', { ...at(id), body })),
    readScales: (id, text) => got(api.POST('/api/jobs/{id}/scales/read', { ...at(id), body: { text } })),
    events: (on) => {
      // One stream a tab: browsers allow few connections to one host.
      const stream = new EventSource('/api/events');
      const read = <T>(event: Event) => JSON.parse((event as MessageEvent<string>).data) as T;
      stream.addEventListener('saved', (event) => on.saved?.(read<Saved>(event)));
      stream.addEventListener('search', (event) => on.search?.(read<SearchTold>(event)));
      stream.addEventListener('round', (event) => on.round?.(read<{ job: string; build: string }>(event)));
      return () => stream.close();
    },
    fileAddress: (id) => `/api/jobs/${encodeURIComponent(id)}/file`,
    measureAddress: (id, paper, units) => `/api/jobs/${encodeURIComponent(id)}/measure?paper=${paper}&units=${units}`,
  };
}
