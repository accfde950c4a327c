import type { Conflict, Edit, Job, Server, Session } from '../api/contract';
import { later, Problem, sentence } from '../api/problem';
import { forgetMine, keepMine, mine, recallMine, whose } from './kept';
import type { KeepRound } from './scalesshape';

/** A save that waits on this machine until the server has it. */
export interface WaitingSave {
  /** A name of the page's own: the server makes the save once, however often it is sent. */
  id: string;
  job: string;
  /** What the job is called in a line. */
  called: string;
  at: string;
  revision: number;
  text: string;
  edits: Edit[];
  who: string;
  why: string;
  state: 'waiting' | 'conflict' | 'refused';
  said: string;
}

interface WaitingRound {
  round: KeepRound;
  at: string;
  state: 'waiting' | 'refused';
  said: string;
}

/** Without what is the page's own. */
export function plain(edit: Edit): Edit {
  const rest = { ...edit };
  delete rest.label;
  delete rest.step;
  return rest;
}

const again = 3000; // ms between tries while something waits

const saves = 'save.waiting.';
const rounds = 'scales.waiting.';

/**
 * What was saved while the workshop's network was away, in the order in which it was saved. It is kept by localStorage, not
 * with the answers: there it stands before the press of the button has ended, and a tablet that is switched off right
 * after has it. It belongs to whoever saved it, and goes under no other name.
 */
export class Outbox {
  private readonly server: Server;
  saves = $state.raw<WaitingSave[]>([]);
  /** How many rounds of the scales wait, by job. */
  rounds = $state.raw<Record<string, number>>({});
  conflicts = $state.raw<Record<string, Conflict>>({});
  sending = $state(false);
  /** The browser keeps nothing: what is not sent goes with the page. */
  unkept = $state(false);

  private readonly desks = new Map<string, (job: Job) => void>();
  /** The scales that are open send their own rounds: they show what is answered. */
  private bench: { job: string; send: () => Promise<void> } | null = null;

  /** `here` asks the server itself who is signed in. */
  constructor(
    server: Server,
    private readonly here: () => Promise<Session>,
  ) {
    this.server = server;
  }

  readonly many = $derived(this.saves.length + Object.values(this.rounds).reduce((sum, one) => sum + one, 0));

  /** Finds what whoever is here left to be sent. */
  load(): void {
    const list: WaitingSave[] = [];
    for (const key of mine(saves)) {
      const one = recallMine<WaitingSave>(key);
      // Whose conflict it was is asked anew: the other side may have moved on.
      if (one) list.push(one.state === 'conflict' ? { ...one, state: 'waiting' } : one);
    }
    this.saves = list.sort((a, b) => a.at.localeCompare(b.at));
    this.conflicts = {};
    this.look();
  }

  /** Counts the rounds anew. */
  look(): void {
    const count: Record<string, number> = {};
    for (const key of mine(rounds)) {
      const job = key.slice(rounds.length, key.lastIndexOf('.'));
      count[job] = (count[job] ?? 0) + 1;
    }
    this.rounds = count;
  }

  /** Starts sending whatever waits; what it returns stops it again. */
  start(): () => void {
    const on = () => void this.send();
    const changed = () => this.look();
    const timer = setInterval(() => {
      if (this.many > 0) on();
    }, again);
    addEventListener('network-back', on);
    addEventListener('online', on);
    addEventListener('rounds-changed', changed);
    on();
    return () => {
      clearInterval(timer);
      removeEventListener('network-back', on);
      removeEventListener('online', on);
      removeEventListener('rounds-changed', changed);
    };
  }

  of(job: string): WaitingSave[] {
    return this.saves.filter((one) => one.job === job);
  }

  /** Tells the job on the desk what became of it. */
  watch(job: string, told: (job: Job) => void): () => void {
    this.desks.set(job, told);
    return () => {
      if (this.desks.get(job) === told) this.desks.delete(job);
    };
  }

  atBench(job: string, send: () => Promise<void>): () => void {
    const here = { job, send };
    this.bench = here;
    return () => {
      if (this.bench === here) this.bench = null;
    };
  }

  hold(one: Omit<WaitingSave, 'at' | 'state' | 'said'>): void {
    // A millisecond apart at least: their order is to be told even after a reload.
    const last = Date.parse(this.saves.at(-1)?.at ?? '') || 0;
    this.put({ ...one, at: new Date(Math.max(Date.now(), last + 1)).toISOString(), state: 'waiting', said: '' });
  }

  private put(one: WaitingSave): void {
    if (!keepMine(`${saves}${one.job}.${one.id}`, one)) this.unkept = true;
    const there = this.saves.some((other) => other.id === one.id);
    this.saves = there ? this.saves.map((other) => (other.id === one.id ? one : other)) : [...this.saves, one];
  }

  /** Takes a save out: it was made, or goes back to the desk. */
  take(id: string): WaitingSave | null {
    const one = this.saves.find((other) => other.id === id) ?? null;
    if (one) {
      forgetMine(`${saves}${one.job}.${one.id}`);
      this.saves = this.saves.filter((other) => other !== one);
      this.conflicts = Object.fromEntries(Object.entries(this.conflicts).filter(([key]) => key !== id));
    }
    return one;
  }

  /** A save was made: what was saved after it stands on what it became. */
  made(id: string, job: Job): void {
    const one = this.take(id);
    if (!one) return;
    for (const next of this.of(one.job)) this.put({ ...next, revision: job.revision, text: job.text });
    const draft = recallMine<{ revision: number }>(`draft.${one.job}`);
    if (draft?.revision === one.revision) keepMine(`draft.${one.job}`, { ...draft, revision: job.revision });
    this.desks.get(one.job)?.(job);
  }

  /** Whether all that was saved of a job before a moment is sent, or waits for a person and not for the network. */
  async ahead(job: string, at: string): Promise<boolean> {
    const before = () => this.of(job).some((one) => one.state === 'waiting' && one.at < at && !this.blocked(one));
    if (!before()) return true;
    await this.send();
    return !before();
  }

  private blocked(one: WaitingSave): boolean {
    return this.of(one.job).some((other) => other.at < one.at && other.state !== 'waiting');
  }

  /** Sends what waits, in the order in which it was saved. */
  async send(): Promise<void> {
    if (this.sending || this.many === 0) return;
    this.sending = true;
    const from = whose();
    try {
      // Another may have signed in at another tab: what is mine does not go under their name.
      const session = await this.here();
      for (;;) {
        if (session.needsLogin || (session.person?.name ?? '') !== from || whose() !== from) return;
        const save = this.saves.find((one) => one.state === 'waiting' && !this.blocked(one));
        // A round that the open scales have still to send, and that was read before the save, goes before it.
        const bench = this.nextRound(true);
        if (bench && save && bench.at < save.at) {
          await this.bench?.send();
          if (recallMine<WaitingRound>(bench.key)?.state === 'waiting') return;
          continue;
        }
        const round = this.nextRound(false);
        if (round && (!save || round.at < save.at)) {
          if (!(await this.sendRound(round.key, round.one))) return;
        } else if (save) {
          if (!(await this.sendSave(save))) return;
        } else {
          return;
        }
      }
    } catch (error) {
      if (!later(error)) throw error;
    } finally {
      this.sending = false;
      if (this.bench && (this.rounds[this.bench.job] ?? 0) > 0) void this.bench.send();
    }
  }

  /** The oldest round that waits: of the scales that are open, or of all others. */
  private nextRound(atBench: boolean): { key: string; at: string; one: WaitingRound } | null {
    let first: { key: string; at: string; one: WaitingRound } | null = null;
    for (const key of mine(rounds)) {
      if ((this.bench !== null && key.startsWith(`${rounds}${this.bench.job}.`)) !== atBench) continue;
      const one = recallMine<WaitingRound>(key);
      if (one?.state === 'waiting' && (!first || one.at < first.at)) first = { key, at: one.at, one };
    }
    return first;
  }

  /** False where it has to wait on. */
  private async sendRound(key: string, one: WaitingRound): Promise<boolean> {
    try {
      await this.server.keepRound(key.slice(rounds.length, key.lastIndexOf('.')), one.round);
      forgetMine(key);
    } catch (error) {
      if (later(error)) return false;
      keepMine(key, { ...one, state: 'refused', said: sentence(error) });
    }
    this.look();
    return true;
  }

  private async sendSave(one: WaitingSave): Promise<boolean> {
    try {
      this.made(
        one.id,
        await this.server.save(one.job, one.revision, {
          text: one.text,
          edits: one.edits.map(plain),
          who: one.who,
          why: one.why,
          id: one.id,
        }),
      );
    } catch (error) {
      if (later(error)) return false;
      if (error instanceof Problem && error.conflict) {
        this.conflicts = { ...this.conflicts, [one.id]: error.conflict };
        this.put({ ...one, state: 'conflict', said: sentence(error) });
      } else {
        this.put({ ...one, state: 'refused', said: sentence(error) });
      }
    }
    return true;
  }
}
