import { later, Problem, sentence } from '../api/problem';
import { forgetMine, keepMine, mine, recallMine, whose } from './kept';
import { kindOf, withUnit, type Kind, type Place } from './scalespad';
import type { KeepRound, Reading, RoundBody, Scales, ScalesServer, Settings, Tick } from './scalesshape';

const restBefore = 250; // ms without a key before the server is asked
const again = 3000; // ms between tries while the server is away
const look = 20_000; // ms between looks at what others saved meanwhile

/** A round as it stands in the fields, letter by letter. */
export interface Typed {
  loads: string[];
  heights: string[];
  turned: string[];
  again: Reading[];
  turned180: Reading;
  pressed: Reading;
  lifted: Reading;
  padLevels: string[];
  padErrors: string[];
  pressures: string[];
  total: string;
  lastTotal: string;
  ballast: string;
  fuel: string;
  barsOff: Tick;
  clicksSoft: Tick;
  settled: Tick;
  asStated: Tick;
  /** What looked odd was read again and is right; what is typed after it is not. */
  confirmed: Tick;
  note: string;
}

export type Units = Record<Exclude<Kind, 'turn'>, string>;

/** A round that is on its way: kept on this machine until the server says it has it. */
export interface Waiting {
  round: KeepRound;
  typed: Typed;
  units: Units;
  at: string;
  state: 'waiting' | 'refused';
  said: string;
}

const four = () => ['', '', '', ''];
const reading = (): Reading => ({ loads: four(), heights: four() });
const full = (list: string[]) => list.some((one) => one.trim() !== '');
const read = (one: Reading) => full(one.loads) || full(one.heights);

export function nothingTyped(): Typed {
  return {
    loads: four(),
    heights: four(),
    turned: four(),
    again: [],
    turned180: reading(),
    pressed: reading(),
    lifted: reading(),
    padLevels: four(),
    padErrors: four(),
    pressures: four(),
    total: '',
    lastTotal: '',
    ballast: '',
    fuel: '',
    barsOff: '',
    clicksSoft: '',
    settled: '',
    asStated: '',
    confirmed: '',
    note: '',
  };
}

export function noSettings(): Settings {
  return {
    build: '',
    load: '',
    preset: '',
    diagonal: '',
    price: '',
    step: '',
    flats: '',
    only: [],
    wishes: { front: '', rear: '', rake: '', levelFront: '', levelRear: '', cross: '', frontShare: '', leftShare: '' },
    units: 'metric',
  };
}

export const unitsOf = (system: string): Units =>
  system === 'imperial'
    ? { load: 'lb', height: 'in', pressure: 'psi' }
    : { load: 'kg', height: 'mm', pressure: system === 'mixed' ? 'psi' : 'bar' };

/** Whether something was read that a round is made of; what is carried over from the round before is none. */
export function hasReading(typed: Typed): boolean {
  return (
    full(typed.loads) ||
    full(typed.heights) ||
    typed.again.some(read) ||
    read(typed.turned180) ||
    read(typed.pressed) ||
    read(typed.lifted)
  );
}

/** The round as it is sent: every bare number with the unit that stood beside it. */
export function bodyOf(typed: Typed, units: Units): RoundBody {
  const row = (list: string[], kind: Kind) =>
    list.map((one) => (kind === 'turn' ? one.trim() : withUnit(one, units[kind])));
  const both = (one: Reading): Reading => ({ loads: row(one.loads, 'load'), heights: row(one.heights, 'height') });
  const body: RoundBody = { ...both(typed), turned: row(typed.turned, 'turn') };
  const repeats = typed.again.filter(read).map(both);
  if (repeats.length > 0) body.again = repeats;
  for (const key of ['turned180', 'pressed', 'lifted'] as const) if (read(typed[key])) body[key] = both(typed[key]);
  if (full(typed.padLevels)) body.padLevels = row(typed.padLevels, 'height');
  if (full(typed.padErrors)) body.padErrors = row(typed.padErrors, 'load');
  if (full(typed.pressures)) body.pressures = row(typed.pressures, 'pressure');
  for (const key of ['total', 'lastTotal'] as const)
    if (typed[key].trim() !== '') body[key] = withUnit(typed[key], units.load);
  for (const key of ['ballast', 'fuel', 'note'] as const) if (typed[key].trim() !== '') body[key] = typed[key].trim();
  for (const key of ['barsOff', 'clicksSoft', 'settled', 'asStated', 'confirmed'] as const)
    if (typed[key] !== '') body[key] = typed[key];
  return body;
}

const tickOf = (text = ''): Tick => (text === 'yes' || text === 'no' ? text : '');

/** What a round that was read from a text becomes in the fields. */
export function typedOf(body: RoundBody): Typed {
  const empty = nothingTyped();
  const row = (list: string[] | null | undefined) => (list && list.length === 4 ? [...list] : four());
  const both = (one?: Reading | null): Reading => ({ loads: row(one?.loads), heights: row(one?.heights) });
  return {
    ...empty,
    ...both(body),
    turned: row(body.turned),
    again: (body.again ?? []).map(both),
    turned180: both(body.turned180),
    pressed: both(body.pressed),
    lifted: both(body.lifted),
    padLevels: row(body.padLevels),
    padErrors: row(body.padErrors),
    pressures: row(body.pressures),
    total: body.total ?? '',
    lastTotal: body.lastTotal ?? '',
    ballast: body.ballast ?? '',
    fuel: body.fuel ?? '',
    barsOff: tickOf(body.barsOff),
    clicksSoft: tickOf(body.clicksSoft),
    settled: tickOf(body.settled),
    asStated: tickOf(body.asStated),
    confirmed: tickOf(body.confirmed),
    note: body.note ?? '',
  };
}

/** The next round's fields: what belongs to the pads and the car's state stays, what is read anew is empty. */
export function carried(typed: Typed): Typed {
  const { padLevels, padErrors, pressures, ballast, fuel, barsOff, clicksSoft, asStated } = typed;
  return { ...nothingTyped(), padLevels, padErrors, pressures, ballast, fuel, barsOff, clicksSoft, asStated };
}

/** A name of the page's own for a round: the server keeps it once, however often it is sent. */
export function newName(): string {
  // crypto.randomUUID is not there on a workshop's network without a certificate.
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (one) => one.toString(16).padStart(2, '0')).join('');
}

interface KeptPage {
  typed: Typed;
  spare?: Typed | null;
  settings: Settings;
  units: Units | null;
}

/**
 * A car on the scales: what is typed, what waits to be sent, and what the server says to all of it. Whatever is typed is kept
 * on this machine at once; a saved round waits there until the server has it.
 */
export class Bench {
  readonly job: string;
  private readonly server: ScalesServer;
  /** Whoever read the scales: a round goes under no other name. */
  private readonly owner = whose();
  view = $state.raw<Scales | null>(null);
  typed = $state<Typed>(nothingTyped());
  /** What stood in the fields before something else was put there. */
  spare = $state.raw<Typed | null>(null);
  settings = $state<Settings>(noSettings());
  /** Units that were chosen on this machine, whatever the page shows. */
  own = $state<Units | null>(null);
  waiting = $state.raw<Waiting[]>([]);
  trouble = $state('');
  /** Why a round was not taken; it stands until the next save. */
  refusal = $state('');
  away = $state(false);
  /** The browser keeps nothing: what is not sent goes with the page. */
  unkept = $state(false);
  asking = $state(false);
  /** The round just kept, for the undo that stands there right after. */
  last = $state.raw<{ id: string; typed: Typed } | null>(null);

  /** What the turns on the screen answer to: the draft and the settings they were asked with. */
  private answered = $state('');
  /** The waiting round whose own turns are on the screen, though nobody has it yet. */
  private shownAfter = $state('');
  /** Turns that were asked for after the last round that the server has. */
  asked4 = $state.raw<string[]>([]);

  private inFlight: AbortController | null = null;
  private more = false;
  private sending = false;
  private rest: ReturnType<typeof setTimeout> | undefined;
  private timer: ReturnType<typeof setInterval> | undefined;

  /**
   * `ahead` sends what was saved of the job before a moment, and says whether that is through: rounds and saves go in
   * the order in which they were made.
   */
  constructor(
    server: ScalesServer,
    job: string,
    units: string,
    private readonly ahead: ((at: string) => Promise<boolean>) | null = null,
  ) {
    this.server = server;
    this.job = job;
    const kept = recallMine<KeptPage>(`scales.${job}`);
    if (kept) {
      this.typed = { ...nothingTyped(), ...kept.typed };
      this.settings = {
        ...noSettings(),
        ...kept.settings,
        wishes: { ...noSettings().wishes, ...kept.settings.wishes },
      };
      this.own = kept.units;
      this.spare = kept.spare ?? null;
    }
    this.settings.units = units;
    this.waiting = this.onThisMachine();
  }

  readonly units = $derived(this.own ?? unitsOf(this.settings.units));
  readonly reading = $derived(hasReading(this.typed));
  private readonly unsent = $derived(this.waiting.filter((one) => one.state === 'waiting'));
  /**
   * The turns on the screen are those from before what was read since: made once, they must not be made again. They are
   * not shown until the server has answered to what stands.
   */
  readonly stale = $derived.by(() => {
    const last = this.unsent.at(-1);
    if (last) return this.shownAfter !== last.round.id || (this.reading && this.question() !== this.answered);
    return this.away && this.question() !== this.answered;
  });

  /** Starts asking; what it returns stops it again. */
  start(): () => void {
    void this.send();
    this.timer = setInterval(() => {
      if (this.waiting.some((one) => one.state === 'waiting')) void this.send();
      else if (this.away) void this.ask();
    }, again);
    const slow = setInterval(() => {
      if (!document.hidden && !this.away) void this.ask();
    }, look);
    const back = () => {
      if (!document.hidden) void this.send();
    };
    document.addEventListener('visibilitychange', back);
    addEventListener('online', back);
    return () => {
      clearInterval(this.timer);
      clearInterval(slow);
      clearTimeout(this.rest);
      this.inFlight?.abort();
      document.removeEventListener('visibilitychange', back);
      removeEventListener('online', back);
    };
  }

  row(row: string): string[] {
    const [a, b, c] = row.split('.');
    const typed = this.typed;
    if (a === 'again') return typed.again[Number(b)]?.[c === 'heights' ? 'heights' : 'loads'] ?? four();
    if (a === 'turned180' || a === 'pressed' || a === 'lifted') return typed[a][b === 'heights' ? 'heights' : 'loads'];
    if (a === 'heights' || a === 'turned' || a === 'padLevels' || a === 'padErrors' || a === 'pressures')
      return typed[a];
    return typed.loads;
  }

  text(at: Place): string {
    return this.row(at.row)[at.corner] ?? '';
  }

  unitOf(row: string): string {
    const kind = kindOf(row);
    return kind === 'turn' ? 'turns' : this.units[kind];
  }

  /** Puts text in a field exactly as it was typed. */
  type(at: Place, text: string): void {
    this.row(at.row)[at.corner] = text;
    this.typed.confirmed = '';
    this.changed();
  }

  /** Says that what looked odd was read again and is right. */
  confirm(): void {
    this.typed.confirmed = 'yes';
    this.changed();
  }

  /** Puts what was meant into the fields: a name such as heights.2, and its text as it would be typed. */
  meant(fields: { field: string; text: string }[]): void {
    for (const { field, text } of fields) {
      const cut = field.lastIndexOf('.');
      this.row(field.slice(0, cut))[Number(field.slice(cut + 1))] = text;
    }
    this.typed.confirmed = '';
    this.changed();
  }

  /** Empties four fields; what was in them can be restored. */
  empty(row: string): void {
    this.spare = $state.snapshot(this.typed) as Typed;
    const list = this.row(row);
    for (let k = 0; k < list.length; k++) list[k] = '';
    this.typed.confirmed = '';
    this.changed();
  }

  set<K extends keyof Typed>(key: K, value: Typed[K]): void {
    this.typed[key] = value;
    this.changed();
  }

  readAgain(): number {
    this.typed.again = [...this.typed.again, reading()];
    this.changed();
    return this.typed.again.length - 1;
  }

  dropAgain(k: number): void {
    this.typed.again = this.typed.again.filter((_, at) => at !== k);
    this.changed();
  }

  /** Puts a round into the fields; what stood there is kept aside. */
  put(typed: Typed): void {
    if (this.reading) this.spare = $state.snapshot(this.typed) as Typed;
    this.typed = $state.snapshot(typed) as Typed;
    this.changed();
  }

  /** Empties the fields; what was in them can be restored. */
  clear(): void {
    this.put(carried($state.snapshot(this.typed) as Typed));
  }

  /** Swaps the fields with what stood there before. */
  putBack(): void {
    const spare = this.spare;
    if (!spare) return;
    this.spare = null;
    this.put(spare);
  }

  want(change: Partial<Settings>): void {
    this.settings = { ...this.settings, ...change };
    this.changed();
  }

  wish(key: keyof Settings['wishes'], text: string): void {
    this.settings.wishes[key] = text;
    this.changed();
  }

  setUnits(units: string): void {
    if (units === this.settings.units) return;
    this.settings.units = units;
    this.changed();
  }

  setOwn(kind: keyof Units, unit: string): void {
    this.own = { ...this.units, [kind]: unit };
    this.changed();
  }

  private changed(): void {
    keepMine(
      `scales.${this.job}`,
      $state.snapshot({ typed: this.typed, spare: this.spare, settings: this.settings, units: this.own }),
    );
    clearTimeout(this.rest);
    this.rest = setTimeout(() => void this.ask(), restBefore);
  }

  /** What is sent of the settings: wishes with the unit that stood beside them. */
  asked(): Settings {
    const now = $state.snapshot(this.settings) as Settings;
    const mm = this.units.height;
    const { wishes } = now;
    return {
      ...now,
      wishes: {
        front: withUnit(wishes.front, mm),
        rear: withUnit(wishes.rear, mm),
        rake: withUnit(wishes.rake, mm),
        levelFront: withUnit(wishes.levelFront, mm),
        levelRear: withUnit(wishes.levelRear, mm),
        cross: withUnit(wishes.cross, '%'),
        frontShare: withUnit(wishes.frontShare ?? '', '%'),
        leftShare: withUnit(wishes.leftShare ?? '', '%'),
      },
    };
  }

  /** What is asked, as one text. */
  private question(): string {
    const typed = $state.snapshot(this.typed) as Typed;
    return JSON.stringify([
      hasReading(typed) ? bodyOf(typed, this.units) : null,
      this.asked(),
      this.unsent.at(-1)?.round.id ?? '',
    ]);
  }

  /** What an empty field of turns stands for. */
  hint(corner: number): string {
    if (this.unsent.length > 0) return this.shownAfter === this.unsent.at(-1)?.round.id ? 'as asked' : '0';
    return this.asked4[corner] || 'as asked';
  }

  /** Asks what the server makes of what stands; while one question is on its way only the newest is kept. */
  async ask(): Promise<void> {
    clearTimeout(this.rest);
    if (this.inFlight) {
      this.more = true;
      return;
    }
    this.asking = true;
    do {
      this.more = false;
      this.inFlight = new AbortController();
      try {
        const typed = $state.snapshot(this.typed) as Typed;
        const draft = hasReading(typed) ? bodyOf(typed, this.units) : undefined;
        const question = this.question();
        const view = await this.server.scales(this.job, this.asked(), draft, this.inFlight.signal);
        if (!draft) this.asked4 = view.corners.map((one) => one.asked);
        // With a round on this machine that it does not have, it answered to something else.
        const whole = this.unsent.length === 0;
        this.answered = whole ? question : '';
        if (!whole) this.shownAfter = '';
        this.heard(view);
      } catch (error) {
        this.failed(error);
        if (this.away) await this.shownLast();
        // The build or the load state that was looked at last may be gone from the job.
        if (error instanceof Problem && error.status === 422 && (this.settings.build || this.settings.load)) {
          this.settings.build = '';
          this.settings.load = '';
          this.more = true;
        }
      } finally {
        this.inFlight = null;
      }
    } while (this.more);
    this.asking = false;
  }

  /** What was shown last is read on; its turns stay hidden, for what stands in the fields has no answer. */
  private async shownLast(): Promise<void> {
    if (!this.view) this.view = (await this.server.lastShown?.<Scales>('scales', this.job)) ?? this.view;
  }

  private heard(view: Scales): void {
    this.view = view;
    this.trouble = '';
    this.away = false;
  }

  private failed(error: unknown): void {
    this.away = error instanceof Problem && error.unreachable;
    this.trouble = this.away
      ? 'The program does not answer. What you type is kept here; a round that you save waits and is sent when it is back.'
      : sentence(error);
  }

  /** Saves the round that stands in the fields: here at once, at the server as soon as it answers. */
  async save(who: string): Promise<void> {
    const typed = $state.snapshot(this.typed) as Typed;
    if (!hasReading(typed)) return;
    this.refusal = '';
    this.hold(typed, who, new Date());
    this.typed = carried(typed);
    this.changed();
    await this.send();
  }

  /** Puts a round among those that wait. */
  private hold(typed: Typed, who: string, when: Date): void {
    const round = bodyOf(typed, this.units);
    const before = this.unsent.at(-1)?.round.id;
    // Nobody was told what to turn after a round that has no answer yet: nothing, where nothing was typed.
    if (before !== undefined && this.shownAfter !== before)
      round.turned = (round.turned ?? four()).map((one) => (one === '' ? '0' : one));
    const one: Waiting = {
      round: {
        id: newName(),
        taken: when.toISOString(),
        build: this.settings.build || (this.view?.build ?? ''),
        ...(who.trim() === '' ? {} : { who: who.trim() }),
        seen: before ?? this.view?.rounds.filter((past) => !past.withdrawn).at(-1)?.id ?? '',
        round,
        settings: this.asked(),
      },
      typed,
      units: $state.snapshot(this.units) as Units,
      at: when.toISOString(),
      state: 'waiting',
      said: '',
    };
    if (this.question() === this.answered) this.shownAfter = one.round.id;
    this.unkept = !keepMine(`${this.shelf}${one.round.id}`, one);
    this.waiting = [...this.waiting, one];
    dispatchEvent(new Event('rounds-changed'));
    this.last = { id: one.round.id, typed };
  }

  /** Saves rounds that were read from a text, in their order. */
  async saveAll(rounds: RoundBody[], who: string): Promise<void> {
    // A millisecond apart: their order is to be told even after a reload.
    const from = Date.now();
    rounds.forEach((one, k) => this.hold(typedOf(one), who, new Date(from + k)));
    await this.send();
  }

  /** Every waiting round has a place of its own: two pages on one machine do not write over each other. */
  private get shelf(): string {
    return `scales.waiting.${this.job}.`;
  }

  private onThisMachine(): Waiting[] {
    const list: Waiting[] = [];
    for (const key of mine(this.shelf)) {
      const one = recallMine<Waiting>(key);
      if (one) list.push(one);
    }
    return list.sort((a, b) => a.at.localeCompare(b.at));
  }

  /** Sends what waits, in the order in which it was saved, and asks anew. */
  async send(): Promise<void> {
    if (this.sending) return;
    this.sending = true;
    try {
      for (;;) {
        const one = this.waiting.find((w) => w.state === 'waiting');
        if (!one) break;
        if (whose() !== this.owner) return;
        if (this.ahead && !(await this.ahead(one.at))) return await this.shownLast();
        try {
          this.heard(await this.server.keepRound(this.job, one.round));
          this.drop(one.round.id);
        } catch (error) {
          this.failed(error);
          if (later(error)) return await this.shownLast();
          // It was understood and not taken: that waits for a person, the rest goes on.
          const refused: Waiting = { ...one, state: 'refused', said: sentence(error) };
          keepMine(`${this.shelf}${one.round.id}`, refused);
          this.waiting = this.waiting.map((w) => (w === one ? refused : w));
          this.refusal = sentence(error);
          if (!this.reading) this.takeBack(one.round.id);
        }
      }
    } finally {
      this.sending = false;
    }
    await this.ask();
  }

  private drop(id: string): void {
    forgetMine(`${this.shelf}${id}`);
    this.waiting = this.waiting.filter((w) => w.round.id !== id);
    dispatchEvent(new Event('rounds-changed'));
  }

  /** Puts a round that waits, or that was refused, back into the fields. */
  takeBack(id: string): boolean {
    const one = this.waiting.find((w) => w.round.id === id);
    if (!one) return false;
    this.drop(id);
    if (this.last?.id === id) this.last = null;
    this.own = one.units;
    this.put(one.typed);
    return true;
  }

  /** Undoes the save that was just made: the round is withdrawn (and stays to be seen), its figures are in the fields again. */
  async undo(who: string): Promise<boolean> {
    const last = this.last;
    if (!last) return false;
    if (this.takeBack(last.id)) return true;
    if (!(await this.withdraw(last.id, 'taken back right after it was saved', who))) return false;
    this.last = null;
    if (!this.reading) this.put(last.typed);
    return true;
  }

  async withdraw(id: string, why: string, who: string): Promise<boolean> {
    try {
      this.heard(await this.server.withdrawRound(this.job, id, why, who, this.asked()));
      if (this.last?.id === id) this.last = null;
      void this.ask();
      return true;
    } catch (error) {
      this.failed(error);
      return false;
    }
  }

  async readText(text: string): Promise<{ rounds: RoundBody[]; faults: string[] }> {
    return this.server.readScales(this.job, text);
  }
}
