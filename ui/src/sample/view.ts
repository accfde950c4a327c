// Sample data for the page of components and for the tests. Every figure is invented; none was computed.

import type {
  Build,
  Cell,
  Control,
  Corner,
  Field,
  Figure,
  Row,
  Strip,
  Trace,
  Verdict,
  View,
  Working,
} from '../api/contract';

export const corners: Corner[] = ['front-left', 'front-right', 'rear-left', 'rear-right'];

interface Axle {
  open: number;
  loose: number | null;
  touch: number;
  solid: number;
  closed: number;
  rest: [number, number];
  band: number;
  peak: number;
  spread: number;
}

const judge = (left: number, band: number, limit: number): Verdict =>
  left - band >= limit ? 'clear' : left + band <= limit ? 'over' : 'close';

const minus = (value: number) => `${value < 0 ? '−' : ''}${Math.abs(Math.round(value))}`;

function figure(build: string, corner: Corner, code: string, left: number, band: number, limit: number): Figure {
  return {
    shown: minus(left),
    full: `${minus(left)} ± ${band} mm`,
    valueId: `${code}.${build}.${corner}`,
    verdict: judge(left, band, limit),
  };
}

function bell(at: number, spread: number): number[][] {
  const points: number[][] = [];
  for (let k = -12; k <= 12; k++) {
    const x = (k / 12) * 3 * spread;
    points.push([at + x, Math.exp(-0.5 * (x / spread) ** 2)]);
  }
  return points;
}

export function stripsOf(build: string, front: Axle, rear: Axle, reference?: [Axle, Axle], draggable = true): Strip[] {
  return corners.map((corner, index) => {
    const axle = index < 2 ? front : rear;
    const side = index % 2 === 0 ? 0 : 1;
    const rest = axle.rest[side];
    const other = reference?.[index < 2 ? 0 : 1];
    const end = index < 2 ? 'front' : 'rear';
    return {
      corner,
      unit: 'mm',
      min: -105,
      max: 118,
      open: axle.open,
      loose: axle.loose,
      restLow: rest - axle.band,
      rest,
      restHigh: rest + axle.band,
      touch: axle.touch,
      firm: axle.touch + 20,
      solid: axle.solid,
      closed: axle.closed,
      arch: index < 2 ? 100 : 101,
      block: null,
      bumpLeft: figure(build, corner, 'travel-to-stop', axle.touch - rest, axle.band, 10),
      droopLeft: figure(build, corner, 'travel-to-open', rest - axle.open, axle.band, 45),
      ghost: other
        ? {
            open: other.open,
            loose: other.loose,
            rest: other.rest[side],
            touch: other.touch,
            solid: other.solid,
            closed: other.closed,
          }
        : undefined,
      use: { tier: 'screening', points: bell(rest, axle.spread), note: 'village lane at 60 km/h' },
      peak: {
        travel: axle.peak,
        shown: minus(axle.peak),
        name: 'pothole 50 mm at 50 km/h',
        verdict: axle.peak > axle.solid ? 'over' : axle.peak > axle.touch ? 'close' : 'clear',
      },
      drag: draggable
        ? { low: axle.open + 20, high: axle.touch + 15, path: `builds.${build}.${end}`, note: 'moves the platform' }
        : undefined,
      state: 'ok',
      says: `${corner.replace('-', ' ')}: ${minus(axle.touch - rest)} mm to the stop, ${minus(rest - axle.open)} mm of droop`,
    };
  });
}

const axles: Record<string, [Axle, Axle]> = {
  arrived: [
    { open: -83, loose: null, touch: 46, solid: 85, closed: 89, rest: [6.5, 11], band: 4, peak: 58, spread: 9 },
    { open: -97, loose: null, touch: 48, solid: 90, closed: 99, rest: [6.8, 8.5], band: 4, peak: 62, spread: 9 },
  ],
  'lower-old': [
    { open: -83, loose: null, touch: 46, solid: 85, closed: 89, rest: [32, 36.2], band: 6, peak: 79, spread: 10 },
    { open: -97, loose: -76, touch: 48, solid: 90, closed: 99, rest: [37, 38.6], band: 6, peak: 92, spread: 12 },
  ],
  'lower-uprated': [
    { open: -67, loose: null, touch: 63, solid: 94, closed: 99, rest: [28.9, 33], band: 6, peak: 74, spread: 8 },
    { open: -77, loose: -71, touch: 77, solid: 107, closed: 110, rest: [36.8, 38.4], band: 6, peak: 82, spread: 8 },
  ],
  kit: [
    { open: -43, loose: null, touch: 67, solid: 95, closed: 98, rest: [27.6, 31.1], band: 6, peak: 66, spread: 6.5 },
    { open: -43, loose: null, touch: 68, solid: 94, closed: 96, rest: [22.9, 24.1], band: 6, peak: 61, spread: 6.5 },
  ],
};

const springs = [
  { value: 'front-25', label: '25 N/mm, 361 mm free' },
  { value: 'front-31', label: '31 N/mm, 304 mm free' },
  { value: 'front-46', label: '46 N/mm, 230 mm free' },
  { value: 'rear-48', label: '48 N/mm, 288 mm free' },
  { value: 'rear-60', label: '60 N/mm, 250 mm free' },
  { value: 'rear-80', label: '80 N/mm, 170 mm free' },
];
const dampers = ['old-front', 'old-rear', 'uprated-front', 'uprated-rear', 'kit-front', 'kit-rear'].map((value) => ({
  value,
  label: value.replace('-', ', '),
}));
const stops = ['f60', 'r58', 'f48', 'r42', 'f42', 'r36'].map((value) => ({
  value,
  label: `${value.slice(1)} mm, ${value.startsWith('f') ? 'front' : 'rear'}`,
}));

function controlsOf(id: string, fitted: { front: string[]; rear: string[]; clicks?: number }): Control[] {
  const out: Control[] = [];
  for (const axle of ['front', 'rear'] as const) {
    const [spring = '', damper = '', stop = ''] = fitted[axle];
    const at = `builds.${id}.${axle}`;
    const label = (list: { value: string; label: string }[], value: string) =>
      list.find((one) => one.value === value)?.label ?? value;
    out.push(
      {
        path: `${at}.spring`,
        label: `${axle} spring`,
        axle,
        kind: 'spring',
        value: spring,
        shown: label(springs, spring),
        choices: springs,
        hint: '',
      },
      {
        path: `${at}.damper`,
        label: `${axle} damper`,
        axle,
        kind: 'damper',
        value: damper,
        shown: label(dampers, damper),
        choices: dampers,
        hint: '',
      },
      {
        path: `${at}.stop`,
        label: `${axle} stop`,
        axle,
        kind: 'stop',
        value: stop,
        shown: label(stops, stop),
        choices: stops,
        hint: '',
      },
    );
    if (fitted.clicks) {
      out.push({
        path: `builds.${id}.setup.click.${axle}`,
        label: `${axle} click`,
        axle,
        kind: 'click',
        value: '7',
        shown: '7 from closed',
        min: 0,
        max: fitted.clicks,
        step: 1,
        hint: '0 is closed, 15 the softest',
      });
    }
  }
  return out;
}

function buildOf(
  id: string,
  name: string,
  sub: string,
  price: string,
  hours: string,
  verdict: Verdict,
  sentence: string,
  fitted: { front: string[]; rear: string[]; clicks?: number },
): Build {
  const pair = axles[id];
  const base = axles.arrived;
  if (!pair || !base) throw new Error(`no sample of ${id}`);
  return {
    id,
    name,
    sub,
    price,
    hours,
    reference: id === 'arrived',
    verdict,
    sentence,
    strips: stripsOf(id, pair[0], pair[1], id === 'arrived' ? undefined : base, id !== 'arrived'),
    controls: controlsOf(id, fitted),
  };
}

const words: Record<Verdict, string> = {
  clear: 'clear',
  close: 'close',
  over: 'over',
  'no-limit': 'no limit',
  unknown: 'unknown',
};

function row(
  code: string,
  label: string,
  sub: string,
  cells: [Verdict, string, string?][],
  tier: Cell['tier'] = 'static',
): Row {
  const rank: Verdict[] = ['over', 'close', 'unknown', 'clear', 'no-limit'];
  return {
    code,
    label,
    sub,
    verdict: [...cells.map((cell) => cell[0])].sort((a, b) => rank.indexOf(a) - rank.indexOf(b))[0] ?? 'unknown',
    cells: cells.map(([verdict, text, detail], k) => ({
      verdict,
      text,
      word: words[verdict],
      detail,
      valueId: verdict === 'unknown' ? undefined : `${code}.${k}`,
      state: verdict === 'unknown' ? 'unknown' : 'ok',
      reason: verdict === 'unknown' ? 'no dyno sweep above 520 mm/s' : undefined,
      tier,
    })),
  };
}

function field(
  path: string,
  label: string,
  typed: string,
  band: string,
  origin: Field['origin'],
  kind = 'length',
  extra: Partial<Field> = {},
): [string, Field] {
  return [path, { path, label, typed, shown: typed, band, origin, line: 20, kind, ...extra }];
}

const each = (path: string, label: string, values: string[], band: string): [string, Field][] =>
  ['front_left', 'front_right', 'rear_left', 'rear_right'].map((at, k) =>
    field(
      `${path}.${at}`,
      `${label}, ${at.replace('_', ' ')}`,
      values[k] ?? '',
      band,
      'measured',
      path.endsWith('load') ? 'mass' : 'length',
    ),
  );

export function sampleView(): View {
  return {
    key: 'sample',
    inShort: '',
    ms: 12,
    title: {
      car: 'Marl 2.0 estate',
      owner: 'Mrs Ollerwick',
      number: '0042',
      workshop: 'Tarrowby Works',
      plate: 'TW 42 OLW',
    },
    load: 'driver',
    loads: [
      { id: 'empty', name: 'Empty', note: 'half a tank' },
      { id: 'driver', name: 'Driver', note: '82 kg' },
      { id: 'four-aboard', name: 'Four aboard', note: '297 kg' },
      { id: 'holiday', name: 'Four and luggage', note: '412 kg' },
      { id: 'hill-climb', name: 'Hill climb', note: 'boot empty' },
    ],
    units: 'metric',
    faults: [],
    fields: Object.fromEntries([
      field('job.owner', 'Owner', 'Mrs Ollerwick', '', 'text', 'text'),
      field('job.number', 'Job number', '0042', '', 'text', 'text'),
      field(
        'job.words',
        'In the owner’s words',
        'It thumps when all of us are aboard, and I want it lower for the hill climbs without it crashing on the school run.',
        '',
        'text',
        'text',
      ),
      field('car.name', 'Car', 'Marl 2.0 estate', '', 'text', 'text'),
      field('car.plate', 'Plate', 'TW 42 OLW', '', 'text', 'text'),
      field('car.kerb_mass', 'Kerb mass', '1480 kg', '± 15 kg', 'measured', 'mass'),
      field('car.wheelbase', 'Wheelbase', '2700 mm', '± 3 mm', 'measured'),
      field('car.track.front', 'Track, front', '1556 mm', '± 3 mm', 'measured'),
      field('car.track.rear', 'Track, rear', '1544 mm', '± 3 mm', 'measured'),
      field('car.cg_height', 'Centre of gravity, sprung', 'est 575 ± 40 mm', '± 40 mm', 'estimated'),
      field('car.unsprung.front', 'Unsprung, front', '44 ± 5 kg', '± 5 kg', 'measured', 'mass'),
      field('car.unsprung.rear', 'Unsprung, rear', '41 ± 5 kg', '± 5 kg', 'measured', 'mass'),
      field('car.front.tyre_rate', 'Tyre rate, front', '225 N/mm ± 12 %', '± 27 N/mm', 'measured', 'rate'),
      field(
        'car.front.bush_rate',
        'Bush rate at the wheel, front',
        'est 1.5 N/mm ± 60 %',
        '± 0.9 N/mm',
        'estimated',
        'rate',
      ),
      field('car.rear.tyre_rate', 'Tyre rate, rear', '', '± 27 N/mm', 'default', 'rate', {
        shown: '225 N/mm',
        filled: true,
      }),
      field(
        'car.rear.bush_rate',
        'Bush rate at the wheel, rear',
        'est 3 N/mm ± 60 %',
        '± 1.8 N/mm',
        'estimated',
        'rate',
        { doubt: 'wide: measuring it would narrow the gaps most' },
      ),
      ...each('car.weighed.load', 'Load', ['426 kg', '428 kg', '314 kg', '295 kg'], '± 1 kg'),
      ...each('car.weighed.arch_height', 'Hub to arch', ['376 mm', '377 mm', '378 mm', '382 mm'], '± 2 mm'),
      ...each(
        'car.weighed.spring_length',
        'Installed spring',
        ['210.2 mm', '209.3 mm', '202.4 mm', '208.2 mm'],
        '± 2 mm',
      ),
      ...each('car.weighed.damper_length', 'Damper length', ['489 mm', '490 mm', '499.2 mm', '502.8 mm'], '± 1 mm'),
      ...each('car.weighed.rod_showing', 'Rod showing', ['103 mm', '104 mm', '100.2 mm', '103.8 mm'], '± 1 mm'),
      field('brief.uses.daily', 'daily', '70 %', '', 'text', 'share'),
      field('brief.uses.spirited', 'spirited', '10 %', '', 'text', 'share'),
      field('brief.uses.touring', 'touring', '10 %', '', 'text', 'share'),
      field('brief.uses.closed-road hill climb', 'closed-road hill climb', '10 %', '', 'text', 'share'),
      field('brief.limits.bump_left', 'Bump travel to the stop, driver aboard', '10 mm', '', 'text'),
      field('brief.limits.bump_left_laden', 'Bump travel to the stop, laden', '0 mm', '', 'text'),
      field('brief.limits.droop_left', 'Rebound travel left', '45 mm', '', 'text'),
      field('brief.limits.spring_loose', 'Spring loose at full droop', '0 mm', '', 'text'),
    ]),
    outline: {
      springs: springs.map((one) => ({ id: one.value, label: one.label })),
      dampers: dampers.map((one) => ({ id: one.value, label: one.label })),
      stops: stops.map((one) => ({ id: one.value, label: one.label })),
      platforms: [{ id: 'kit-collar', label: 'collar, 1.5 mm a turn' }],
    },
    brief: {
      known: {
        roads: [{ value: 'motorway', label: 'motorway, class A' }],
        events: [
          { kind: 'pothole', label: 'pothole', size: 'depth', usual: '50 mm', length: '0.6 m', speed: '50 km/h' },
        ],
      },
      sentence:
        'Judged mostly on daily roads with the driver aboard, and on the stops with four aboard; the hill climb counts one part in ten.',
      uses: [
        { name: 'daily', share: '70 %', path: 'brief.uses.daily' },
        { name: 'spirited', share: '10 %', path: 'brief.uses.spirited' },
        { name: 'touring', share: '10 %', path: 'brief.uses.touring' },
        { name: 'closed-road hill climb', share: '10 %', path: 'brief.uses.closed-road hill climb' },
      ],
      roads: [
        {
          id: 'town-street',
          name: 'town street',
          klass: 'ISO 8608 class C',
          line: 'patched asphalt',
          speeds: [
            { shown: '40 km/h', value: '40 km/h' },
            { shown: '60 km/h', value: '60 km/h' },
          ],
          load: 'driver',
          path: 'brief.roads[0]',
        },
        {
          id: 'village-lane',
          name: 'village lane',
          klass: 'ISO 8608 class D',
          line: 'broken edges',
          speeds: [
            { shown: '60 km/h', value: '60 km/h' },
            { shown: '80 km/h', value: '80 km/h' },
          ],
          load: 'four-aboard',
          path: 'brief.roads[1]',
        },
      ],
      events: [
        { index: 0, name: 'pothole', line: '50 mm deep, 600 mm long, at 50 km/h, driver', path: 'brief.events[0]' },
        {
          index: 1,
          name: 'round hump',
          line: '75 mm high, 3.7 m long, at 30 km/h, four aboard',
          path: 'brief.events[1]',
        },
      ],
      limits: [
        { path: 'brief.limits.bump_left', label: 'Bump travel to the stop, driver aboard' },
        { path: 'brief.limits.bump_left_laden', label: 'Bump travel to the stop, laden' },
        { path: 'brief.limits.droop_left', label: 'Rebound travel left' },
        { path: 'brief.limits.spring_loose', label: 'Spring loose at full droop' },
      ],
    },
    builds: [
      buildOf('arrived', 'As it arrived', '25 / 48 N/mm', '', '', 'close', 'near its rear stops with luggage aboard', {
        front: ['front-25', 'old-front', 'f60'],
        rear: ['rear-48', 'old-rear', 'r58'],
      }),
      buildOf(
        'lower-old',
        'Lower springs, old dampers',
        '31 / 60 N/mm, 27 mm lower in front',
        '420 EUR',
        '5 h',
        'over',
        'rests on its rear stops with four aboard; rear springs loose at full droop',
        { front: ['front-31', 'old-front', 'f60'], rear: ['rear-60', 'old-rear', 'r58'] },
      ),
      buildOf(
        'lower-uprated',
        'Lower springs, uprated dampers',
        '31 / 60 N/mm, shorter stops',
        '1,180 EUR',
        '7 h',
        'close',
        'clear with four, touches its rear stops on holiday',
        { front: ['front-31', 'uprated-front', 'f48'], rear: ['rear-60', 'uprated-rear', 'r42'] },
      ),
      buildOf(
        'kit',
        'Adjustable kit, inverted front struts',
        '46 / 80 N/mm, click 7 from closed',
        '2,950 EUR',
        '10 h',
        'clear',
        'clear in every load state of the brief',
        { front: ['front-46', 'kit-front', 'f42'], rear: ['rear-80', 'kit-rear', 'r36'], clicks: 15 },
      ),
    ],
    rows: [
      row('rests-on-bump-stop', 'Bump travel to the stop', 'rear left, four aboard', [
        ['close', '9 ± 4 mm'],
        ['over', 'in it by 11 ± 6 mm', '8 % of the rear load'],
        ['clear', '14 ± 6 mm'],
        ['clear', '25 ± 6 mm'],
      ]),
      row('spring-loose-at-droop', 'Rear spring at full droop', 'rear right, driver', [
        ['clear', 'seated, 20 ± 4 mm'],
        ['over', 'loose by 18 ± 4 mm'],
        ['close', 'loose by 5 ± 4 mm'],
        ['clear', 'seated, 5 ± 4 mm'],
      ]),
      row(
        'stop-force',
        'Round hump at 30 km/h',
        'rear left, four aboard',
        [
          ['close', '5.4 kN'],
          ['over', '10.4 kN', 'past the stop’s curve'],
          ['close', '4.3 kN'],
          ['clear', '2.8 kN'],
        ],
        'time',
      ),
      row(
        'stop-hits',
        'Stop met on the village lane',
        'above 1 kN, 60 km/h, four aboard',
        [
          ['close', '8.5 per km'],
          ['over', '98.5 per km'],
          ['clear', '1.5 per km'],
          ['clear', 'none'],
        ],
        'screening',
      ),
      row(
        'damping-ratio',
        'Damping in heave',
        'at 130 mm/s, front, driver',
        [
          ['close', '0.21 ± 0.03'],
          ['over', '0.19 ± 0.03'],
          ['clear', '0.31 ± 0.03'],
          ['clear', '0.40 ± 0.04'],
        ],
        'modes',
      ),
      row('travel-to-stop', 'Bump travel to the stop', 'front right, driver', [
        ['clear', '35 ± 4 mm'],
        ['close', '10 ± 6 mm'],
        ['clear', '30 ± 6 mm'],
        ['clear', '36 ± 6 mm'],
      ]),
      row(
        'oil',
        'Oil temperature on the hill',
        'one run of 4 minutes',
        [
          ['no-limit', '+18 K'],
          ['no-limit', '+21 K'],
          ['unknown', 'no value'],
          ['no-limit', '+24 K'],
        ],
        'time',
      ),
      row('travel-to-open', 'Rebound travel left', 'front left, driver', [
        ['clear', '90 ± 4 mm'],
        ['clear', '115 ± 6 mm'],
        ['clear', '96 ± 6 mm'],
        ['clear', '71 ± 6 mm'],
      ]),
    ],
    tables: [
      {
        id: 'frequency',
        title: 'Frequencies, driver aboard',
        columns: ['arrived', 'lower-old', 'lower-uprated', 'kit'].map((build) => ({ build })),
        rows: [
          {
            label: 'Front, without tyre',
            sub: 'front right',
            cells: row('corner-frequency', '', '', [
              ['no-limit', '1.28 Hz'],
              ['no-limit', '1.42 Hz'],
              ['no-limit', '1.42 Hz'],
              ['no-limit', '1.70 Hz'],
            ]).cells,
          },
          {
            label: 'Rear, without tyre',
            sub: 'rear left',
            cells: row('corner-frequency-rear', '', '', [
              ['no-limit', '1.46 Hz'],
              ['no-limit', '1.62 Hz'],
              ['no-limit', '1.62 Hz'],
              ['no-limit', '1.84 Hz'],
            ]).cells,
          },
          {
            label: 'Wheel rate',
            sub: 'front right',
            cells: row('wheel-rate', '', '', [
              ['no-limit', '26.7 N/mm'],
              ['no-limit', '32.9 N/mm'],
              ['no-limit', '33.1 N/mm'],
              ['no-limit', '47.7 N/mm'],
            ]).cells,
          },
        ],
      },
    ],
    warnings: [
      {
        text: 'Old front damper: speeds above 1040 mm/s are beyond its dyno sweep; its end line was carried on.',
        build: 'lower-old',
      },
    ],
    measureNext: [
      {
        text: 'Measure the bush rate at the rear wheel',
        path: 'car.rear.bush_rate',
        minutes: 12,
        narrows: 'halves the band of four gaps',
      },
    ],
    cautions: [
      'Springs under load: compressor rated for the coil, nobody in line with it.',
      'Gas dampers: never heat or drill; release as the maker says.',
      'Rubber bushes: tighten at ride height. Headlamps and alignment after every change of height.',
    ],
    applied: [],
    unchecked: 0,
    full: false,
    plan: {
      unit: 'mm',
      wheelbase: 2700,
      wheels: [
        [0, 778],
        [0, -778],
        [2700, 772],
        [2700, -772],
      ],
      weights: [[1300, -370]],
    },
    order: {
      title: 'Before the order',
      date: '25 November 2026',
      lines: [
        {
          build: 'lower-old',
          name: 'Lower springs, old dampers',
          price: '420 EUR',
          hours: '5 h',
          verdict: 'over',
          sentence: 'rests on its rear stops with four aboard',
          answers: '',
          stands: 'It stands 25.0 mm lower in front.',
          buys: [{ text: '27 mm lower in front, 31 mm at the rear' }],
          costs: [
            '20 mm less to the rear stops: on them with four aboard',
            'rear springs loose by 18 mm at full droop',
          ],
        },
        {
          build: 'lower-uprated',
          name: 'Lower springs, uprated dampers',
          price: '1,180 EUR',
          hours: '7 h',
          verdict: 'close',
          sentence: 'clear with four, touches its rear stops on holiday',
          answers: '',
          stands: 'It stands 25.0 mm lower in front.',
          buys: [
            { text: '24 mm lower in front, 30 mm at the rear' },
            { text: 'a third more damping than as it arrived' },
          ],
          costs: ['rear springs 2 to 5 mm loose at full droop: add a helper'],
        },
        {
          build: 'kit',
          name: 'Adjustable kit, inverted front struts',
          price: '2,950 EUR',
          hours: '10 h',
          verdict: 'clear',
          sentence: 'clear in every load state of the brief',
          answers: '',
          stands: 'It stands 25.0 mm lower in front.',
          buys: [
            { text: '24 mm lower in front, 18 mm at the rear' },
            { text: '16 mm more to the rear stops with four aboard' },
            { text: '2.6 kN less into the body over the hump' },
          ],
          costs: ['0.4 Hz firmer in front', '40 mm less droop'],
        },
      ],
      note: 'Prices and hours are as typed into the job. Whether a change is allowed on the road is for the local code and a licensed tester.',
    },
    ride: {
      kind: 'event',
      name: 'pothole, 50 mm deep, 600 mm long',
      speed: { shown: '50 km/h', value: '50 km/h' },
      speeds: ['30 km/h', '40 km/h', '50 km/h', '60 km/h'].map((s) => ({ shown: s, value: s })),
      load: 'driver',
      tier: 'time',
      note: '',
      state: 'ok',
      trace: true,
      sides: ['arrived', 'lower-old', 'lower-uprated', 'kit'].map((build, k) => ({
        build,
        floors: [
          {
            name: 'driver’s floor',
            shown: ['1.9', '2.8', '2.1', '2.2'][k] + ' m/s²',
            band: '± 0.2',
            word: 'a jolt',
            valueId: `floor.${build}`,
          },
          { name: 'rear floor', shown: ['2.2', '3.9', '2.4', '2.3'][k] + ' m/s²', band: '± 0.2', word: 'a hard jolt' },
        ],
        corners: corners.map((corner) => ({
          corner,
          stop: ['0.8 kN', '3.8 kN', '0.8 kN', 'not met'][k] ?? '',
          travel: '+58 / −41 mm',
          load: '0.3 to 2.1 of rest',
        })),
      })),
      charts: [
        {
          id: 'travel',
          title: 'Wheel travel, front left',
          kind: 'line',
          x: { label: 'time', unit: 's' },
          y: { label: 'travel from rest, bump +', unit: 'mm' },
          bands: [],
          series: ['arrived', 'lower-old', 'lower-uprated', 'kit'].map((build, k) => {
            const x = Array.from({ length: 160 }, (_, i) => i * 0.008);
            return {
              name:
                ['As it arrived', 'Lower springs, old dampers', 'Lower springs, uprated dampers', 'Adjustable kit'][
                  k
                ] ?? build,
              build,
              x,
              y: x.map((t) =>
                t < 0.2
                  ? 0
                  : 48 * Math.exp(-(1.5 + k * 1.3) * (t - 0.2) * 1.6) * Math.sin(8.2 * (1 + k * 0.08) * (t - 0.2)),
              ),
            };
          }),
        },
      ],
    },
  };
}

export function sampleWorking(id: string): Working {
  return {
    id,
    title: 'Bump travel to the stop: in it by 11 ± 6 mm',
    where: 'lower springs, old dampers · rear left · four aboard',
    equation: 's = w_touch − w_rest',
    source: 'derived here',
    result: '−11 mm',
    band: '−17 to −5 mm (95 %)',
    state: 'ok',
    terms: [
      {
        symbol: 'w_touch',
        name: 'wheel travel at which the stop is touched',
        shown: '48 ± 3 mm',
        origin: 'computed',
        workingId: 'w-touch',
      },
      { symbol: 'w_rest', name: 'wheel travel at rest', shown: '59 ± 5 mm', origin: 'computed', workingId: 'w-rest' },
      {
        symbol: 'L_stop',
        name: 'length of the stop',
        shown: '58 ± 1 mm',
        origin: 'measured',
        typed: '58 mm',
        path: 'parts.stops.r58.length',
        line: 138,
      },
    ],
    note: 'The stop carries 8 % of the corner at rest: from there on its rate adds to the spring’s.',
    limit: { text: 'at least 0 mm', from: 'brief.limits.bump_left_laden' },
    remedies: [
      {
        text: 'a rear stop 15 mm shorter',
        edits: [{ path: 'builds.lower-old.rear.stop', value: 'r42', label: 'rear stop' }],
        after: '5 ± 6 mm left',
        worsens: ['to solid: 5 mm less'],
      },
    ],
    narrow: { text: 'Measuring the rear bush rate would narrow this most', path: 'car.rear.bush_rate' },
  };
}

/** A car over one dip, drawn by hand: for the side view's page of components only. */
export function sampleTrace(build = 'kit'): Trace {
  const dt = 0.01,
    n = 180,
    speed = 13889,
    wheelbase = 2700;
  const dip = (t: number) => (t > 0.4 && t < 0.443 ? -50 * Math.sin(((t - 0.4) / 0.043) * Math.PI) : 0);
  const ring = (t: number, a: number) => (t < 0.4 ? 0 : a * Math.exp(-5 * (t - 0.4)) * Math.sin(11 * (t - 0.4)));
  const lag = wheelbase / speed;
  const times = Array.from({ length: n }, (_, i) => i * dt);
  const at = (k: number, t: number) => (k < 2 ? t : t - lag);
  const wheel = [0, 1, 2, 3].map((k) => times.map((t) => 0.7 * dip(at(k, t)) + ring(at(k, t), 6)));
  const body = [0, 1, 2, 3].map((k) => times.map((t) => ring(at(k, t), -14)));
  const travel = wheel.map((w, k) => w.map((v, i) => v - (body[k]?.[i] ?? 0) + 24));
  return {
    dt,
    build,
    side: 'left',
    unit: { travel: 'mm', stop: 'kN', seat: 'm/s²' },
    wheelbase,
    speed,
    road: { front: times.map((t) => dip(t)), rear: times.map((t) => dip(t - lag)) },
    wheel,
    body,
    travel,
    stop: travel.map((w) => w.map((v) => Math.max(0, (v - 30) * 0.2))),
    seat: times.map((t) => ring(t, 2.4)),
    limits: [0, 1, 2, 3].map(() => ({ open: -43, touch: 30, solid: 95, rest: 24 })),
  };
}
