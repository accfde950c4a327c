// A server that answers from memory: for the page of components and the tests, never for a job.

import type { Draft, Edit, Job, JobLine, Server, Session } from '../api/contract';
import { sampleMeasuring } from './measuring';
import { sampleScalesServer } from './scales';
import { sampleTrace, sampleView, sampleWorking } from './view';

export const sampleJobs: JobLine[] = [
  {
    id: '0042',
    number: '0042',
    car: 'Marl 2.0 estate',
    owner: 'Mrs Ollerwick',
    plate: 'TW 42 OLW',
    changed: 'today 10:42',
    changedBy: 'Ines',
    builds: 4,
    worst: { verdict: 'over', text: 'one build rests on its stops' },
    demo: true,
    draft: true,
  },
  {
    id: '0039',
    number: '0039',
    car: 'Wend roadster',
    owner: 'Mr van der Hoogenband-Featherstonehaugh and daughters',
    plate: 'TW 39',
    changed: 'yesterday',
    changedBy: 'Tam',
    builds: 2,
    worst: { verdict: 'clear', text: 'all clear' },
    demo: false,
    draft: false,
    matched: 'rear spring 80 N/mm',
  },
  {
    id: '0038',
    number: '0038',
    car: 'Harl pick-up',
    owner: '',
    plate: '',
    changed: '3 November',
    changedBy: 'Tam',
    builds: 1,
    worst: { verdict: 'unknown', text: 'not enough measured' },
    demo: false,
    draft: false,
  },
];

export const sampleSession: Session = {
  workshop: 'Tarrowby Works',
  person: { id: 'ines', name: 'Ines', role: 'specialist' },
  people: [
    { id: 'ines', name: 'Ines', role: 'specialist' },
    { id: 'tam', name: 'Tam', role: 'bay' },
  ],
  version: 'sample',
  loopback: true,
  units: 'metric',
  needsLogin: false,
  notes: [],
  language: 'en-GB',
};

export function sampleServer(change: Partial<Server> = {}): Server & { drafts: Map<string, Draft>; tried: Edit[][] } {
  const drafts = new Map<string, Draft>();
  const tried: Edit[][] = [];
  let job: Job = {
    id: '0042',
    revision: 3,
    number: '0042',
    text: 'trunnion: job/1\n',

    savedAt: '10:42',
    savedBy: 'Ines',
  };
  return {
    drafts,
    tried,
    session: async () => sampleSession,
    login: async () => sampleSession,
    logout: async () => undefined,
    jobs: async (search) => {
      const jobs = sampleJobs.filter((one) =>
        `${one.car} ${one.owner} ${one.plate}`.toLowerCase().includes(search.toLowerCase()),
      );
      return { jobs, total: jobs.length };
    },
    create: async () => job,
    job: async () => ({ ...job, draft: drafts.get(job.id) ?? undefined }),
    save: async (_id, revision, request) =>
      (job = { ...job, revision: revision + 1, text: `${job.text}# ${request.why}\n`, savedBy: request.who }),
    revisions: async () => [
      {
        revision: 3,
        who: 'Ines',
        when: 'today 10:42',
        why: 'after the scales',
        changed: [{ label: 'front spring', was: '31 N/mm', now: '46 N/mm' }],
      },
    ],
    revision: async () => job.text,
    keepDraft: async (id, draft) => void drafts.set(id, draft),
    dropDraft: async (id) => void drafts.delete(id),
    attempt: async (request) => {
      tried.push(request.edits);
      const view = sampleView();
      view.units = request.units;
      if (request.load) view.load = request.load;
      if (request.event === undefined && !request.road) view.ride = undefined;
      for (const edit of request.edits) {
        if (edit.value != null && view.fields[edit.path])
          view.fields[edit.path] = {
            ...(view.fields[edit.path] as never as object),
            typed: edit.value,
            shown: edit.value,
          } as never;
        for (const build of view.builds) {
          for (const control of build.controls) {
            if (control.path === edit.path && edit.value != null) {
              control.value = edit.value;
              control.shown = control.choices?.find((one) => one.value === edit.value)?.label ?? edit.value;
            }
          }
        }
        view.applied.push({
          path: edit.path,
          value: edit.value ?? edit.move ?? '',
          was: '',
          label: edit.label ?? edit.path,
        });
      }
      return view;
    },
    plan: async (_key, build) => ({
      build,
      tooLow: [],
      notFor: '',
      told: 'Nothing is over, and nothing is likelier to be than not: no plan is needed.',
      steps: [],
      lines: [],
      edits: [],
    }),
    working: async (_key, id) => sampleWorking(id),
    trace: async (_key, build) => sampleTrace(build),
    measuring: async () => sampleMeasuring(),
    corner: async () => Promise.reject(new Error('the sample goes round no corner')),
    struts: async () => Promise.reject(new Error('the sample has no struts')),
    startSearch: async () => Promise.reject(new Error('the sample finds no builds')),
    newestSearch: async () => Promise.reject(new Error('the sample finds no builds')),
    search: async () => Promise.reject(new Error('the sample finds no builds')),
    cancelSearch: async () => undefined,
    dampers: async () => Promise.reject(new Error('the sample has no clicks')),
    damperPresets: async () => Promise.reject(new Error('the sample has no clicks')),
    damperTarget: async () => Promise.reject(new Error('the sample has no clicks')),
    damperOrder: async () => Promise.reject(new Error('the sample has no clicks')),
    damperSweeps: async () => Promise.reject(new Error('the sample reads no sweeps')),
    damperAccept: async () => Promise.reject(new Error('the sample reads no sweeps')),
    damperExamples: async () => [],
    roadTest: async () => Promise.reject(new Error('the sample reads no logs')),
    roadTestExamples: async () => [],
    linkage: async () => Promise.reject(new Error('the sample has no linkage')),
    catalogue: async (kind) => [
      {
        id: `${kind}-1`,
        kind,
        name: `${kind} of the drawer`,
        line: '40 N/mm, 240 mm free, 80 mm block',
        source: 'maker’s sheet',
        date: '2026-10-02',
        price: '95 EUR',
        revision: 1,
        stock: 'two',
        text: '',
        withdrawn: false,
        who: 'Ines',
        why: '',
      },
    ],
    allParts: async () => [],
    readParts: async () => ({ questions: [], faults: [], assumed: [], parts: [], count: 0, taken: '', saved: false }),
    partsFile: async () => ({ name: '', media: '', data: '' }),
    savePart: async () => Promise.reject(new Error('the sample keeps nothing')),
    savePreset: async () => Promise.reject(new Error('the sample keeps nothing')),
    keepPart: async () => Promise.reject(new Error('the sample keeps nothing')),
    keepPreset: async () => Promise.reject(new Error('the sample keeps nothing')),
    symptoms: async () => ({ rows: [], when: [] }),
    support: async () => Promise.reject(new Error('the sample proposes nothing')),
    records: async () => Promise.reject(new Error('the sample keeps no records')),
    nearest: async () => ({ jobs: [], of: 0 }),
    addNote: async () => Promise.reject(new Error('the sample keeps no notes')),
    history: async () => ({
      newest: 3,
      entries: [
        { id: 'r3', revision: 3, who: 'Ines', when: 'today 10:42', why: 'stiffer rear', lines: [] },
        { id: 'r2', revision: 2, who: 'Tam', when: 'today 09:15', why: 'scales', lines: [] },
        { id: 'r1', revision: 1, who: 'Ines', when: 'yesterday', why: 'taken on the telephone', lines: [] },
      ],
    }),
    way: async () => Promise.reject(new Error('the sample has one state')),
    remeasure: async () => Promise.reject(new Error('the sample has no record')),
    sheet: async () => Promise.reject(new Error('the sample prints nothing')),
    workshop: async () => ({
      name: 'Tarrowby Works',
      words: '',
      hasLogo: false,
      recheckDays: 28,
      recheckKm: 800,
      revision: 1,
      when: '',
      who: 'Ines',
    }),
    due: async () => [],
    saveWorkshop: async () => Promise.reject(new Error('the sample keeps nothing')),
    backups: async () => ({ own: true, hours: 6, keep: 28, folder: '/data/backups', backups: [] }),
    backUp: async () => ({ own: true, hours: 6, keep: 28, folder: '/data/backups', backups: [] }),
    people: async () => sampleSession.people,
    savePerson: async () => Promise.reject(new Error('the sample keeps nothing')),
    presets: async () => [
      {
        id: 'marl-town',
        car: 'Marl 2.0 estate',
        name: 'Town, on the kit',
        text: '',
        revision: 1,
        when: '2 November 2026',
        who: 'Ines',
      },
    ],
    ...sampleScalesServer(),
    typical: async () => [],
    events: () => () => undefined,
    fileAddress: (id) => `/api/jobs/${id}/file`,
    measureAddress: (id) => `/api/jobs/${id}/measure`,
    ...change,
  };
}
