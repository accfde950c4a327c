// What the page of the scales and the server say to each other.

import type { Edit } from '../api/contract';

export type Grade = 'pass' | 'caution' | 'stop';
export type Tick = '' | 'yes' | 'no';
export interface Reading {
  loads: string[];
  heights: string[];
}

export interface RoundBody {
  loads: string[];
  heights: string[];
  again?: Reading[];
  turned?: string[];
  total?: string;
  lastTotal?: string;
  turned180?: Reading;
  pressed?: Reading;
  lifted?: Reading;
  padLevels?: string[];
  padErrors?: string[];
  pressures?: string[];
  ballast?: string;
  fuel?: string;
  barsOff?: Tick;
  clicksSoft?: Tick;
  settled?: Tick;
  asStated?: Tick;
  note?: string;
}

export interface Wishes {
  front: string;
  rear: string;
  rake: string;
  levelFront: string;
  levelRear: string;
  cross: string;
}

export interface Settings {
  build: string;
  load: string;
  preset: string;
  diagonal: string;
  price: string;
  step: string;
  flats: string;
  only: string[];
  wishes: Wishes;
  units: string;
}

export interface Collar {
  turns: string;
  way: 'up' | 'down' | 'none';
  clockwise: boolean;
  turnsNumber: number;
  move: string;
  at: string;
  roomUp: string;
  roomDown: string;
  held: string;
  text: string;
}

export interface ScalesCorner {
  corner: string;
  name: string;
  load: { shown: string; band: string };
  height: { shown: string; band: string };
  after: { load: string; height: string };
  asked?: string;
  collar: Collar | null;
}

export interface ScalesRound {
  id: string;
  number: number;
  taken: string;
  saved: string;
  who: string;
  loads: string[];
  heights: string[];
  turned: string[];
  cross: string;
  verdict: Grade;
  withdrawn: { who: string; when: string; why: string } | null;
  note: string;
}

export interface Scales {
  builds: { id: string; name: string; collars: boolean }[];
  build: string;
  load: string;
  loads: { id: string; name: string }[];
  settings: Settings;
  presets: { id: string; name: string; says: string }[];
  says: string;
  verdict: Grade;
  stopped: boolean;
  met: boolean;
  checks: { code: string; verdict: Grade; text: string; corner?: string | null }[];
  corners: ScalesCorner[];
  totals: { label: string; shown: string; band: string; after: string }[];
  cross: {
    diagonal: string[];
    now: string;
    after: string;
    band: string;
    wanted: string;
    other: { now: string; after: string };
  };
  axles: { level: { now: string; after: string; band: string }; says: string }[];
  price: {
    unit: string;
    crossUnit?: string;
    points: { x: number; cross: number; label: string; price: string }[];
    chosen: number;
    note: string;
  };
  missed: string[];
  refused: string[];
  single: { text: string } | null;
  suspects: { text: string; likelier: string }[];
  learned: { text: string }[];
  predicted: { round: number; rows: { label: string; predicted: string; got: string; off: string }[] }[];
  order: { text: string; caution: boolean }[];
  reopened: string[];
  cautions: string[];
  rounds: ScalesRound[];
  keep: { edits: Edit[]; says: string };
  plan: { unit: string; wheelbase: number; wheels: number[][]; seat?: { behind: number; left: number } | null };
  faults?: { field: string; text: string }[];
}

export interface KeepRound {
  id: string;
  taken: string;
  build: string;
  who?: string;
  round: RoundBody;
  settings: Settings;
}

/** What the page of the scales asks of a server. */
export interface ScalesServer {
  scales(id: string, settings: Settings, draft?: RoundBody, signal?: AbortSignal): Promise<Scales>;
  keepRound(id: string, round: KeepRound): Promise<Scales>;
  withdrawRound(id: string, round: string, why: string, who: string, settings: Settings): Promise<Scales>;
  readScales(id: string, text: string): Promise<{ rounds: RoundBody[]; faults: string[] }>;
}
