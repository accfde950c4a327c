// A car on the scales for the page of components and for the tests. Every figure is invented; none was computed.

import type { Scales, ScalesServer, Settings } from '../state/scalesshape';

const names = ['Front left', 'Front right', 'Rear left', 'Rear right'];
const corners = ['front-left', 'front-right', 'rear-left', 'rear-right'];

export function sampleScales(settings?: Settings): Scales {
  const turns: [string, 'up' | 'down' | 'none', string][] = [
    ['1/4', 'up', '0.4 mm'],
    ['1/4', 'down', '0.4 mm'],
    ['2 1/8', 'down', '3.2 mm'],
    ['2 1/8', 'up', '3.2 mm'],
  ];
  const loads = ['431.8', '464.7', '327.3', '321.2'];
  const heights = ['350.1', '345.0', '357.9', '355.1'];
  return {
    builds: [
      { id: 'arrived', name: 'As it arrived', collars: false, rounds: 0 },
      { id: 'kit', name: 'Adjustable kit, inverted front struts', collars: true, rounds: 1 },
    ],
    build: 'kit',
    load: 'driver',
    loads: [
      { id: 'empty', name: 'empty' },
      { id: 'driver', name: 'driver' },
    ],
    settings: {
      build: 'kit',
      load: 'driver',
      preset: settings?.preset || 'road',
      diagonal: settings?.diagonal || 'front-right-rear-left',
      price: settings?.price ?? '',
      step: settings?.step || '1/8',
      flats: settings?.flats ?? '',
      only: [],
      wishes: { front: '', rear: '', rake: '', levelFront: '', levelRear: '', cross: '' },
      units: 'metric',
    },
    presets: [
      { id: 'road', name: 'Road', says: 'cross within 1 %, arches may differ by 5 mm' },
      { id: 'track', name: 'Track', says: 'cross within 0.5 %, 3 mm' },
      { id: 'race', name: 'Race', says: 'cross within 0.2 %, 1 mm' },
    ],
    says: 'Turn four collars, then roll the car and read again.',
    verdict: 'caution',
    stopped: false,
    unread: false,
    now: '',
    ms: 0,
    met: false,
    meets: true,
    checks: [
      {
        code: 'read-once',
        verdict: 'caution',
        text: 'Read once only: one reading scatters by ± 0.4 % of cross.',
        corner: null,
        doubt: false,
        causes: [],
      },
      {
        code: 'total',
        verdict: 'pass',
        text: 'The total of 1545.0 kg is 0.1 % from what the model has.',
        corner: null,
        doubt: false,
        causes: [],
      },
    ],
    corners: corners.map((corner, k) => ({
      corner,
      name: names[k] ?? corner,
      read: true,
      load: { shown: `${loads[k]} kg`, band: '± 1.0 kg' },
      height: { shown: `${heights[k]} mm`, band: '± 1.0 mm' },
      after: { load: '430.0 kg', loadBand: '± 1.2 kg', height: '350.0 mm', heightBand: '± 1.1 mm' },
      asked: '',
      collar: {
        turns: turns[k]?.[0] ?? '',
        way: turns[k]?.[1] ?? 'none',
        clockwise: turns[k]?.[1] === 'down',
        turnsNumber: 1,
        move: turns[k]?.[2] ?? '',
        at: '12 mm from the mark',
        roomUp: '6 mm',
        roomDown: '30 mm',
        held: '',
        text: '',
      },
    })),
    totals: [
      { label: 'Total', shown: '1545.0 kg', band: '± 2 kg', after: '1545.0 kg' },
      { label: 'Front share', shown: '58.0 %', band: '± 0.1 %', after: '58.0 %' },
    ],
    cross: {
      diagonal: ['front-right', 'rear-left'],
      name: 'front right + rear left',
      now: '51.3 %',
      after: '50.2 %',
      band: '± 0.4 %',
      wanted: '50.0 %',
      other: { now: '48.7 %', after: '49.8 %' },
    },
    axles: [
      {
        level: { now: '+5.1 mm', after: '+1.9 mm', band: '± 1.4 mm' },
        says: 'Front: left 5.1 mm higher, after it 1.9',
      },
      {
        level: { now: '+2.8 mm', after: '−1.8 mm', band: '± 1.4 mm' },
        says: 'Rear: left 2.8 mm higher, after it 1.8 lower',
      },
    ],
    price: {
      unit: 'mm',
      crossUnit: '%',
      points: [
        { x: 0, cross: 52.9, label: 'level to 0.0 mm, cross 52.9 %', price: 'level' },
        { x: 1.9, cross: 50.2, label: 'level to 1.9 mm, cross 50.2 %', price: '0.25 %/mm' },
        { x: 2.2, cross: 50, label: 'level to 2.2 mm, cross 50.0 %', price: '0.02 %/mm' },
      ],
      chosen: 1,
      note: 'Four heights and a cross weight are five wishes for four collars.',
    },
    missed: [],
    refused: [],
    single: { text: 'rear right 3 turns up brings cross to 50.4 %', meets: false },
    suspects: [],
    learned: [{ text: 'The front springs are 2 % stiffer than stated.' }],
    predicted: [],
    order: [
      {
        text: 'Car on stands before hands go near a spring under load',
        caution: true,
        mind: '',
        now: false,
        again: false,
      },
      { text: 'Turn, count the turns, lock the collar', caution: false, mind: '', now: true, again: false },
      { text: 'Roll it on, chocks off, read again', caution: true, mind: '', now: false, again: false },
    ],
    reopened: ['alignment', 'the gap to the stop'],
    opened: [],
    cautions: ['It says nothing about whether the car is safe or legal.'],
    rounds: [],
    keep: { edits: [{ path: 'car.weighed.load.front_left', value: '431.8 kg' }], says: 'four loads and four heights' },
    plan: {
      unit: 'm',
      wheelbase: 2.7,
      wheels: [
        [0, 0.77],
        [0, -0.77],
        [2.7, 0.76],
        [2.7, -0.76],
      ],
      seat: { behind: 1.35, left: 0.36 },
    },
    faults: [],
  };
}

/** Keeps rounds in memory; one that comes twice is kept once. */
export function sampleScalesServer(): ScalesServer & { kept: string[] } {
  const kept: string[] = [];
  const gone: Record<string, string> = {};
  const view = (settings?: Settings): Scales => ({
    ...sampleScales(settings),
    rounds: kept.map((id, k) => ({
      id,
      number: k + 1,
      taken: '10:42',
      saved: '10:42',
      who: 'Tam',
      loads: ['431.8 kg', '464.7 kg', '327.3 kg', '321.2 kg'],
      heights: ['350.1 mm', '345.0 mm', '357.9 mm', '355.1 mm'],
      turned: ['', '', '', ''],
      cross: '51.3 %',
      verdict: 'caution',
      load: 'driver',
      round: { loads: [], heights: [] },
      withdrawn: gone[id] === undefined ? undefined : { who: 'Tam', when: '10:43', why: gone[id] ?? '' },
      note: '',
    })),
  });
  return {
    kept,
    scales: async (_id, settings) => view(settings),
    keepRound: async (_id, round) => {
      if (!kept.includes(round.id)) kept.push(round.id);
      return view(round.settings);
    },
    withdrawRound: async (_id, round, why, _who, settings) => {
      gone[round] = why;
      return view(settings);
    },
    lift: async () => ({
      says: 'No height yet: level is not given.',
      shown: '–',
      band: '',
      sprung: '–',
      cautions: [],
      edits: [],
      faults: [],
    }),
    readScales: async () => ({ rounds: [], faults: ['no line was understood'] }),
  };
}
