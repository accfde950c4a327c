// What the page and the server say to each other. Texts and figures come ready to show, in the units asked for; plain
// numbers are for drawing only, in the unit named beside them. The page converts nothing.

export type Units = 'metric' | 'imperial' | 'mixed';
export type Verdict = 'clear' | 'close' | 'over' | 'no-limit' | 'unknown';
export type Corner = 'front-left' | 'front-right' | 'rear-left' | 'rear-right';
export type Tier = 'static' | 'modes' | 'screening' | 'time';
export type State = 'ok' | 'estimated' | 'outside' | 'unknown';

export interface Person {
  id: string;
  name: string;
  role: string;
}

export interface Session {
  workshop: string;
  person: Person | null;
  people: Person[];
  version: string;
  loopback: boolean;
  units: Units;
  needsLogin: boolean;
}

export interface JobLine {
  id: string;
  number: string;
  car: string;
  owner: string;
  plate: string;
  changed: string;
  changedBy: string;
  builds: number;
  worst: { verdict: Verdict; text: string };
  demo: boolean;
  draft: boolean;
  matched?: string;
}

export interface JobList {
  jobs: JobLine[];
  total: number;
}

/** The figures that can be given on the telephone; each is sent as typed. */
export interface Figures {
  owner: string;
  car: string;
  plate: string;
  wheelbase: string;
  track: string;
  loadFrontLeft: string;
  loadFrontRight: string;
  loadRearLeft: string;
  loadRearRight: string;
  archFront: string;
  archRear: string;
  springFront: string;
  springRear: string;
  lowerFront: string;
  lowerRear: string;
}

export type NewJob = { figures: Figures } | { text: string; name?: string } | { fromJob: string };

/** One change. Which keys stand in it says which kind it is; label and step are the page's own. */
export interface Edit {
  path: string;
  value?: string | null;
  part?: string;
  move?: string;
  copyOf?: string;
  name?: string;
  label?: string;
  step?: number;
}

export interface Draft {
  revision: number;
  edits: Edit[];
  undone: Edit[];
  at: string;
}

export interface Job {
  id: string;
  revision: number;
  number: string;
  text: string;
  draft?: Draft | null;
  savedAt: string;
  savedBy: string;
}

export interface SaveRequest {
  text: string;
  edits: Edit[];
  who: string;
  why: string;
}

export interface ConflictField {
  path: string;
  label: string;
  base: string;
  mine: string;
  theirs: string;
  same: boolean;
}

export interface Conflict {
  mine: { text: string };
  theirs: { text: string; revision: number; who: string; when: string; why: string };
  fields: ConflictField[];
}

export interface Revision {
  revision: number;
  who: string;
  when: string;
  why: string;
  changed: { label: string; was: string; now: string }[];
}

export interface Fault {
  line: number;
  path: string;
  got: string;
  want: string;
  kind: 'refuse' | 'warn';
  /** Of a figure that was typed into the page. */
  location?: string;
}

export interface TryRequest {
  text: string;
  edits: Edit[];
  units: Units;
  load?: string;
  road?: { name: string; speed: string };
  event?: number;
  speed?: string;
  /** A run that is done, for its results where the job is still what was judged. */
  run?: string;
}

export interface Field {
  label: string;
  typed: string;
  shown: string;
  band: string;
  origin: 'measured' | 'maker' | 'estimated' | 'default' | 'text';
  line: number;
  path: string;
  kind: string;
  choices?: { value: string; label: string }[];
  filled?: boolean;
  doubt?: string;
}

export interface Figure {
  shown: string;
  full: string;
  valueId: string;
  verdict: Verdict;
}

export interface Ghost {
  open: number | null;
  loose: number | null;
  rest: number;
  touch: number | null;
  solid: number | null;
  closed: number | null;
}

/** What one corner has in travel, from the reference height; bump is positive. */
export interface Strip {
  corner: Corner;
  unit: string;
  min: number;
  max: number;
  /** What is null is not known or never met. */
  open: number | null;
  loose: number | null;
  restLow: number | null;
  rest: number | null;
  restHigh: number | null;
  touch: number | null;
  firm: number | null;
  solid: number | null;
  closed: number | null;
  arch: number | null;
  block: number | null;
  bumpLeft: Figure;
  droopLeft: Figure;
  ghost?: Ghost | null;
  use?: { tier: Tier; points: number[][]; note: string } | null;
  peak?: { travel: number; shown: string; name: string; verdict: Verdict } | null;
  drag?: { low: number; high: number; path: string; note: string } | null;
  state: State;
  says: string;
}

export interface Control {
  path: string;
  label: string;
  axle: 'front' | 'rear';
  kind: 'spring' | 'damper' | 'stop' | 'click' | 'platform' | 'height' | 'packer';
  value: string;
  shown: string;
  choices?: { value: string; label: string }[];
  min?: number;
  max?: number;
  step?: number;
  hint: string;
}

export interface Build {
  id: string;
  name: string;
  sub: string;
  price: string;
  hours: string;
  reference: boolean;
  verdict: Verdict;
  sentence: string;
  strips: Strip[];
  controls: Control[];
}

export interface Cell {
  verdict: Verdict;
  text: string;
  word: string;
  detail?: string;
  valueId?: string | null;
  state: State;
  reason?: string;
  tier: Tier;
}

export interface Row {
  code: string;
  label: string;
  sub: string;
  verdict: Verdict;
  cells: Cell[];
}

export interface Table {
  id: string;
  title: string;
  rows: { label: string; sub: string; cells: Cell[] }[];
}

export interface Choice {
  id: string;
  label: string;
  clicks?: number;
}

export interface BriefRoad {
  id: string;
  name: string;
  klass: string;
  line: string;
  speeds: { shown: string; value: string }[];
  load: string;
  path: string;
}

export interface BriefEvent {
  index: number;
  name: string;
  line: string;
  path: string;
}

export interface Chart {
  id: string;
  title: string;
  note?: string;
  kind: 'line' | 'bars' | 'steps';
  x: { label: string; unit: string; log?: boolean };
  y: { label: string; unit: string; log?: boolean };
  bands?: { from: number; to: number; label: string }[];
  series: { name: string; build: string; x: number[]; y: number[] }[];
}

export interface RideFloor {
  name: string;
  shown: string;
  band: string;
  word: string;
  valueId?: string | null;
}

export interface RideCorner {
  corner: Corner;
  stop: string;
  travel: string;
  load: string;
}

export interface Ride {
  kind: 'road' | 'event';
  name: string;
  speed: { shown: string; value: string };
  speeds: { shown: string; value: string }[];
  load: string;
  tier: Tier;
  note: string;
  state: State;
  sides: { build: string; floors: RideFloor[]; corners: RideCorner[] }[];
  charts: Chart[];
  trace: boolean;
}

export interface Order {
  title: string;
  date: string;
  lines: {
    build: string;
    name: string;
    price: string;
    hours: string;
    verdict: Verdict;
    sentence: string;
    buys: { text: string; valueId?: string | null }[];
    costs: string[];
  }[];
  cautions: string[];
  note: string;
}

export interface View {
  key: string;
  ms: number;
  /** The full judgement in time; otherwise a try. */
  full?: boolean;
  title: { car: string; owner: string; number: string; workshop: string; plate: string };
  load: string;
  loads: { id: string; name: string; note: string }[];
  units: Units;
  faults: Fault[];
  fields: Record<string, Field>;
  outline: { springs: Choice[]; dampers: Choice[]; stops: Choice[]; platforms: Choice[] };
  brief: {
    sentence: string;
    uses: { name: string; share: string; path: string }[];
    roads: BriefRoad[];
    events: BriefEvent[];
    limits: { path: string; label: string }[];
  };
  builds: Build[];
  rows: Row[];
  tables: Table[];
  warnings: { text: string; build?: string; path?: string }[];
  measureNext: { text: string; path: string; minutes: number; narrows: string }[];
  cautions: string[];
  applied: { path: string; value: string; was: string; label: string; note?: string }[];
  order: Order;
  ride?: Ride | null;
}

export interface Term {
  symbol: string;
  name: string;
  shown: string;
  origin: string;
  typed?: string;
  path?: string;
  line?: number;
  workingId?: string | null;
}

export interface Working {
  id: string;
  title: string;
  where: string;
  equation: string;
  source: string;
  result: string;
  band: string;
  state: State;
  terms: Term[];
  note?: string;
  limit?: { text: string; from: string } | null;
  remedies: { text: string; edits: Edit[]; after: string; worsens: string[] }[];
  narrow?: { text: string; path: string } | null;
}

/** One event or stretch of road in time, for the side view. */
export interface Trace {
  dt: number;
  build: string;
  side?: string;
  unit: { travel: string; stop: string; seat: string };
  /** In the unit of travel. */
  wheelbase: number;
  /** In the unit of travel, each second. */
  speed: number;
  road: { front: number[]; rear: number[] };
  wheel: number[][];
  body: number[][];
  travel: number[][];
  stop: number[][];
  seat: number[];
  limits: { open: number | null; touch: number | null; solid: number | null; rest: number }[];
}

export interface Run {
  id: string;
  job: string;
  state: 'waiting' | 'running' | 'done' | 'failed' | 'cancelled';
  progress: number;
  said: string;
  revision: number;
  view?: View | null;
}

export interface Part {
  id: string;
  kind: string;
  name: string;
  line: string;
  source: string;
  date: string;
  price?: string;
}

/** What the page needs of a server; the real one speaks HTTP, the one of the components page answers from memory. */
export interface Server {
  session(): Promise<Session>;
  login(passphrase: string, person: string): Promise<Session>;
  logout(): Promise<void>;
  jobs(search: string): Promise<JobList>;
  create(job: NewJob): Promise<Job>;
  job(id: string): Promise<Job>;
  save(id: string, revision: number, request: SaveRequest): Promise<Job>;
  revisions(id: string): Promise<Revision[]>;
  revision(id: string, revision: number): Promise<string>;
  keepDraft(id: string, draft: Draft): Promise<void>;
  dropDraft(id: string): Promise<void>;
  attempt(request: TryRequest, signal?: AbortSignal): Promise<View>;
  working(key: string, valueId: string, units: Units): Promise<Working>;
  trace(key: string, build: string): Promise<Trace>;
  catalogue(kind: string, search: string): Promise<Part[]>;
  startRun(id: string, request: TryRequest): Promise<Run>;
  runs(id: string): Promise<Run[]>;
  run(id: string): Promise<Run>;
  cancelRun(id: string): Promise<void>;
  events(on: {
    run?: (run: Run) => void;
    saved?: (saved: { job: string; revision: number; who: string }) => void;
  }): () => void;
  fileAddress(id: string): string;
}
