import type { Conflict, Draft, Edit, Job, Server, TryRequest, Units, View, Working } from '../api/contract';
import { faultText } from '../api/fault';
import { Problem, sentence } from '../api/problem';
import { forgetMine, keepHere, keepMine, recallHere, recallMine, whose } from './kept';
import { plain, type Outbox } from './outbox.svelte';
import { newName } from './scales.svelte';
import { fullAfter, loud, quickAfter } from './refined';
import { Since, touchedBy, type Answered, type Before } from './since';

const gatherWithin = 1200; // ms in which keystrokes at one place are one step of undo
const draftAfter = 500; // ms of rest before the draft goes to the server; this machine keeps it at once
const refineAfter = 300; // ms of rest before the full answer is asked for

export interface Look {
  load?: string;
  road?: { name: string; speed: string };
  event?: number;
  speed?: string;
}

/**
 * The job on the desk: what was saved, what was changed since, and what the server says of both together. Nothing typed
 * is lost: every change is kept on this machine at once and on the server a moment later.
 */
export class Desk {
  readonly id: string;
  private readonly server: Server;
  private readonly outbox: Outbox | null;
  /** Whoever opened the job. */
  private readonly owner = whose();
  job = $state<Job | null>(null);
  view = $state.raw<View | null>(null);
  edits = $state.raw<Edit[]>([]);
  undone = $state.raw<Edit[]>([]);
  look = $state<Look>({});
  units = $state<Units>('metric');
  trying = $state(false);
  /** Why the last answer is missing; the view then is of the state before. */
  trouble = $state('');
  conflict = $state.raw<Conflict | null>(null);
  saving = $state(false);
  /** The full answer is on its way; the one in sight is quick, and its bands are rough. */
  refining = $state(false);
  /** Why the answer in sight stays rough. */
  rough = $state('');
  /** Rows that stood open in the quick answer: they stay so when the full one comes. */
  stood = $state.raw<string[]>([]);
  /** Someone else saved this job meanwhile. */
  overtaken = $state('');
  /** The working that is open, and the row or strip it stands under. */
  open = $state<{ at: string; valueId: string } | null>(null);
  working = $state.raw<Working | null>(null);
  workingTrouble = $state('');

  /** The answers that the last change was made on. */
  private before = $state.raw<Before | null>(null);
  /** The answers to what stood last. */
  private answered: Answered = { quick: null, full: null };
  /** What was taken back out of the middle, with all that stood before: the rest may no longer fit. */
  without = $state.raw<{ label: string; edits: Edit[] } | null>(null);

  private step = 0;
  private lastAt = 0;
  private inFlight: AbortController | null = null;
  private again = false;
  private full: AbortController | null = null;
  private resting: ReturnType<typeof setTimeout> | undefined;
  private timer: ReturnType<typeof setTimeout> | undefined;

  /** Saves made while the network is away wait in the outbox; without one they are refused as before. */
  constructor(server: Server, id: string, units: Units, outbox: Outbox | null = null) {
    this.server = server;
    this.outbox = outbox;
    this.id = id;
    this.units = units;
    const load = recallHere(`load.${id}`);
    if (load) this.look = { load };
  }

  readonly changed = $derived(this.edits.length > 0);
  /** What was saved while the network was away, and is not at the server yet. */
  readonly waiting = $derived.by(() => this.outbox?.of(this.id) ?? []);
  /** All that differs from the job as the server has it: what waits to be sent, and what was changed since. */
  private readonly pile = $derived([...this.waiting.flatMap((one) => one.edits), ...this.edits]);
  /** What stands on the desk, as one text: it is the same after bands were refined, which the view's key is not. */
  /** Counts the rounds at the scales that anybody kept or took back while this job was open. */
  rounds = $state(0);
  readonly standing = $derived(JSON.stringify([this.job?.revision ?? 0, this.pile.map(plain)]));
  /** Where a figure stands otherwise than before the last change. */
  readonly since = $derived(new Since(this.before, this.view));
  /** The changes, each with its edits and the number of its step; the last first. */
  readonly changes = $derived.by(() => {
    const out: { step: number; edits: { edit: Edit; at: number }[] }[] = [];
    this.edits.forEach((edit, at) => {
      const step = edit.step ?? 0;
      const last = out[0];
      if (last?.step === step) last.edits.push({ edit, at });
      else out.unshift({ step, edits: [{ edit, at }] });
    });
    return out;
  });
  /** What is wrong with the rest after something was taken back; empty where it fits. */
  readonly unfit = $derived.by(() => {
    if (!this.without || this.trying) return '';
    const fault = this.view?.faults.find((one) => one.kind === 'refuse');
    return this.trouble || (fault ? faultText(fault, this.view?.fields) : '');
  });
  readonly canUndo = $derived(this.edits.length > 0);
  readonly canRedo = $derived(this.undone.length > 0);

  async load(): Promise<void> {
    try {
      const job = await this.server.job(this.id);
      this.job = job;
      const here = recallMine<Draft>(`draft.${this.id}`);
      const draft = newest(here, job.draft ?? null);
      if (draft) {
        this.edits = draft.edits ?? [];
        this.undone = draft.undone ?? [];
        this.step = Math.max(0, ...this.edits.map((one) => one.step ?? 0), ...this.undone.map((one) => one.step ?? 0));
        if (draft.revision !== job.revision && this.edits.length > 0)
          this.overtaken = `Your changes were made on revision ${draft.revision}; the job now stands at ${job.revision}. Saving will show both.`;
        this.base = draft.revision;
      } else {
        this.base = job.revision;
      }
      this.refusedBack();
      await this.attempt();
      if (!this.view && this.unreached) {
        const last = (await this.server.lastShown?.<View>('view', this.id)) ?? null;
        if (last && !this.view) this.view = last;
      }
    } catch (error) {
      this.nowhere = error instanceof Problem && error.status === 404;
      this.trouble = sentence(error);
    }
  }

  /** The trouble is that nobody answers. */
  unreached = $state(false);

  /** Set where the workshop has no such job. */
  nowhere = $state(false);

  /** The revision the changes were made on. */
  private base = 0;

  request(): TryRequest {
    return {
      text: this.job?.text ?? '',
      edits: this.pile.map(plain),
      units: this.units,
      ...$state.snapshot(this.look),
    };
  }

  /** Asks for an answer to what stands now; while one is on its way only the newest question is kept. */
  async attempt(): Promise<void> {
    if (!this.job) return;
    this.overtake();
    if (this.inFlight) {
      this.again = true;
      return;
    }
    this.trying = true;
    do {
      this.again = false;
      this.inFlight = new AbortController();
      try {
        const view = await this.server.attempt(this.request(), this.inFlight.signal);
        // Overtaken: it answers what stood before the last press. While a line is pulled it is shown all the same.
        if (this.again && !this.gesturing) continue;
        this.trouble = '';
        this.unreached = false;
        if (refused(view) && view.builds.length === 0 && this.view) {
          // The last good answer stays in sight, with what is wrong with the newest change.
          this.view = { ...this.view, faults: view.faults, fields: { ...this.view.fields, ...view.fields } };
        } else {
          this.view = quickAfter(this.view, view);
          this.answered = { quick: view.full ? null : view, full: view.full ? view : null };
          this.stood = this.view.rows.filter((row) => loud(row) || !view.rows.includes(row)).map((row) => row.code);
        }
      } catch (error) {
        this.trouble = sentence(error);
        this.unreached = error instanceof Problem && error.unreachable;
      } finally {
        this.inFlight = null;
      }
    } while (this.again);
    this.trying = false;
    if (this.open) void this.explain(this.open.at, this.open.valueId, true);
    this.refineSoon();
  }

  /** Drops the full answer that is on its way: it would be of a state before. */
  private overtake(): void {
    clearTimeout(this.resting);
    this.full?.abort();
    this.full = null;
    this.refining = false;
    this.rough = '';
  }

  private refineSoon(): void {
    const view = this.view;
    if (!view || view.full || this.trouble !== '' || refused(view) || view.builds.length === 0) return;
    this.refining = true;
    this.resting = setTimeout(() => void this.refine(), refineAfter);
  }

  /** Asks for the answer that the command gives. The quick one stays in sight until it is there. */
  async refine(): Promise<void> {
    this.overtake();
    const mine = new AbortController();
    this.full = mine;
    this.refining = true;
    try {
      const view = await this.server.attempt({ ...this.request(), full: true }, mine.signal);
      if (this.full !== mine) return;
      this.view = fullAfter(this.view, view);
      this.answered = { ...this.answered, full: view };
      if (this.open) void this.explain(this.open.at, this.open.valueId, true);
    } catch (error) {
      if (this.full === mine) this.rough = sentence(error);
    } finally {
      if (this.full === mine) {
        this.full = null;
        this.refining = false;
      }
    }
  }

  /**
   * Puts a change on the pile. Several at one place shortly after another are one step; `part of` a gesture (a drag)
   * replaces what the same gesture said before.
   */
  change(edit: Edit | Edit[], gesture = false): void {
    const list = Array.isArray(edit) ? edit : [edit];
    const now = Date.now();
    const last = this.edits.at(-1);
    const first = list[0];
    const same =
      list.length === 1 &&
      last !== undefined &&
      first !== undefined &&
      last.path === first.path &&
      kindOf(last) === kindOf(first) &&
      (gesture
        ? last.step === this.step && this.gesturing
        : now - this.lastAt < gatherWithin && kindOf(first) === 'value');
    const sum = !gesture && list.length === 1 && now - this.lastAt < gatherWithin ? together(last, first) : null;
    if (sum) {
      this.edits = [...this.edits.slice(0, -1), sum];
    } else if (same && first) {
      this.edits = [...this.edits.slice(0, -1), { ...first, step: last?.step }];
    } else {
      this.before = { ...this.answered, touched: touchedBy(list.map((one) => one.path)) };
      this.without = null;
      this.step++;
      const step = this.step;
      this.edits = [...this.edits, ...list.map((one) => ({ ...one, step }))];
    }
    this.gesturing = gesture;
    this.lastAt = now;
    this.undone = [];
    this.kept();
    void this.attempt();
  }

  private gesturing = false;

  endGesture(): void {
    this.gesturing = false;
    this.lastAt = 0;
  }

  undo(): string {
    const last = this.edits.at(-1);
    if (!last) return '';
    const step = last.step;
    const from = this.edits.findIndex((one) => one.step === step);
    const gone = this.edits.slice(from);
    this.undone = [...this.undone, ...gone];
    this.edits = this.edits.slice(0, from);
    this.without = null;
    this.settle(gone);
    return last.label ?? last.path;
  }

  /** Takes one change back and keeps those after it. */
  takeBack(step: number): string {
    const gone = this.edits.filter((one) => one.step === step);
    const label = gone[0]?.label ?? gone[0]?.path ?? '';
    this.without = { label, edits: this.edits };
    this.edits = this.edits.filter((one) => one.step !== step);
    this.settle(gone);
    return label;
  }

  /** Puts back what was taken out of the middle. */
  putBack(): void {
    if (!this.without) return;
    const back = this.without.edits.filter((one) => !this.edits.includes(one));
    this.edits = this.without.edits;
    this.without = null;
    this.settle(back);
  }

  redo(): string {
    const last = this.undone.at(-1);
    if (!last) return '';
    const from = this.undone.findIndex((one) => one.step === last.step);
    const back = this.undone.slice(from);
    this.edits = [...this.edits, ...back];
    this.undone = this.undone.slice(0, from);
    this.without = null;
    this.settle(back);
    return last.label ?? last.path;
  }

  private settle(changed: Edit[]): void {
    this.before = { ...this.answered, touched: touchedBy(changed.map((one) => one.path)) };
    this.lastAt = 0;
    this.gesturing = false;
    this.kept();
    void this.attempt();
  }

  /** What stands in a place now: the newest change, or what was saved. */
  typed(path: string): string {
    for (let k = this.pile.length - 1; k >= 0; k--) {
      const one = this.pile[k];
      if (one?.path === path && one.value !== undefined) return one.value ?? '';
      // What stands under the path was changed as a whole, or the list it is in has moved up: earlier changes at the
      // same path were of something else.
      if (one && (under(path, one.path) || (one.value === null && under(path, one.path.replace(/\[\d+\]$/u, ''), '['))))
        break;
    }
    return this.view?.fields[path]?.typed ?? '';
  }

  /** What was said of a place since the job was saved; null where nothing was. */
  pending(path: string): string | null {
    const last = this.pile.findLast((one) => one.path === path || under(path, one.path));
    return last?.path === path && last.value !== undefined ? last.value : null;
  }

  private kept(): void {
    const draft: Draft = {
      revision: this.base,
      edits: this.edits,
      undone: this.undone,
      at: new Date().toISOString(),
    };
    if (this.edits.length === 0 && this.undone.length === 0) forgetMine(`draft.${this.id}`);
    else keepMine(`draft.${this.id}`, draft);
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      // Somebody else is here by now: it stays on this machine, for whoever typed it.
      if (whose() !== this.owner) return;
      const done = this.edits.length === 0 && this.undone.length === 0;
      // A server that does not answer is said by the next try; this machine has the draft meanwhile.
      (done ? this.server.dropDraft(this.id) : this.server.keepDraft(this.id, draft)).catch(() => undefined);
    }, draftAfter);
  }

  /**
   * Saves a revision. False when somebody else saved first: conflict then says what they did. While the network is away
   * the save waits on this machine.
   */
  async save(who: string, why: string): Promise<boolean> {
    if (!this.job) return false;
    // The same name whether it is sent now or later: the answer may have been lost, and not the save.
    const id = newName();
    if (this.outbox && this.waiting.length > 0) {
      this.hold(id, who, why);
      void this.outbox.send();
      return true;
    }
    this.saving = true;
    const edits = this.edits;
    try {
      const job = await this.server.save(this.id, this.base, {
        text: this.job.text,
        edits: edits.map(plain),
        who,
        why,
        id,
      });
      this.settled(job);
      return true;
    } catch (error) {
      if (this.outbox && error instanceof Problem && error.unreachable) {
        this.hold(id, who, why);
        return true;
      }
      if (error instanceof Problem && error.conflict) this.conflict = error.conflict;
      else this.trouble = sentence(error);
      return false;
    } finally {
      this.saving = false;
    }
  }

  private hold(id: string, who: string, why: string): void {
    if (!this.job) return;
    this.outbox?.hold({
      id,
      job: this.id,
      called: this.view?.title.car ?? '',
      revision: this.base,
      text: this.job.text,
      edits: this.edits,
      who,
      why,
    });
    this.edits = [];
    this.undone = [];
    this.before = null;
    this.without = null;
    this.kept();
  }

  /** Listens to what becomes of the saves that wait; what it returns stops it again. */
  watch(): () => void {
    const stop = this.outbox?.watch(this.id, (job) => {
      this.job = job;
      this.base = job.revision;
      this.overtaken = '';
      if (this.edits.length > 0) this.kept();
      void this.attempt();
    });
    const back = () => void this.lookAgain();
    addEventListener('network-back', back);
    return () => {
      stop?.();
      removeEventListener('network-back', back);
    };
  }

  /** The network is back: the job may have been saved by others meanwhile. */
  private async lookAgain(): Promise<void> {
    if (!this.job) return this.load();
    const had = this.job.revision;
    try {
      const job = await this.server.job(this.id);
      if (job.revision > this.job.revision && this.waiting.length === 0) {
        if (this.edits.length === 0) {
          this.job = job;
          this.base = job.revision;
        } else {
          this.overtaken = `${job.savedBy || 'Somebody'} saved revision ${job.revision} meanwhile. Saving yours will show both.`;
        }
      }
    } catch {
      // it is away again
    }
    if (this.unreached || this.job.revision !== had) await this.attempt();
  }

  /** Puts a save that waits back among the changes that are not saved. */
  takeWaitingBack(id: string): void {
    const one = this.outbox?.take(id);
    if (!one) return;
    this.edits = [...one.edits, ...this.edits];
    this.kept();
    void this.attempt();
  }

  /** A save that the server did not take is not lost: its changes stand on the desk again, with why. */
  refusedBack(): void {
    for (const one of this.waiting.filter((other) => other.state === 'refused').reverse()) {
      this.takeWaitingBack(one.id);
      this.overtaken = `What was saved while the network was away was not taken: ${one.said} The changes stand here, not saved.`;
    }
  }

  /** Shows what somebody else saved before a save that waited came in. */
  showConflict(): void {
    const one = this.waiting.find((other) => other.state === 'conflict');
    this.conflict = (one && this.outbox?.conflicts[one.id]) ?? null;
  }

  /** Ends a conflict with a choice for each field: theirs is the ground, mine is put on it where it was chosen. */
  async resolve(mine: Set<string>, who: string, why: string): Promise<boolean> {
    const conflict = this.conflict;
    if (!this.job || !conflict) return false;
    const waited = this.waiting.find((one) => this.outbox?.conflicts[one.id] === conflict);
    const revision = conflict.theirs.revision ?? this.job.revision;
    this.saving = true;
    try {
      const edits: Edit[] = conflict.fields
        .filter((one) => mine.has(one.path))
        .map((one) => ({ path: one.path, value: one.mine === '' ? null : one.mine }));
      const job = await this.server.save(this.id, revision, {
        text: conflict.theirs.text,
        edits,
        who: waited?.who ?? who,
        why: why || (waited?.why ?? ''),
        ...(waited ? { id: `${waited.id}-${revision}` } : {}),
      });
      this.conflict = null;
      if (waited) this.outbox?.made(waited.id, job);
      else this.settled(job);
      void this.outbox?.send();
      return true;
    } catch (error) {
      if (error instanceof Problem && error.conflict) {
        if (waited && this.outbox) this.outbox.conflicts = { ...this.outbox.conflicts, [waited.id]: error.conflict };
        this.conflict = error.conflict;
      } else this.trouble = sentence(error);
      return false;
    } finally {
      this.saving = false;
    }
  }

  private settled(job: Job): void {
    this.job = job;
    this.base = job.revision;
    this.edits = [];
    this.undone = [];
    this.before = null;
    this.without = null;
    this.overtaken = '';
    this.trouble = '';
    forgetMine(`draft.${this.id}`);
    clearTimeout(this.timer);
    this.server.dropDraft(this.id).catch(() => undefined);
    void this.attempt();
  }

  setUnits(units: Units): void {
    if (units === this.units) return;
    this.units = units;
    this.before = null;
    void this.attempt();
  }

  setLook(look: Look): void {
    this.look = { ...this.look, ...look };
    if (look.load !== undefined) {
      this.before = null;
      keepHere(`load.${this.id}`, look.load);
    }
    void this.attempt();
  }

  /** Opens the working of a value under a row; the same again closes it. */
  async explain(at: string, valueId: string, again = false): Promise<void> {
    if (!again && this.open?.at === at && this.open.valueId === valueId) {
      this.close();
      return;
    }
    if (!again) this.working = null;
    this.open = { at, valueId };
    this.workingTrouble = '';
    const key = this.view?.key;
    if (!key) return;
    try {
      const working = await this.server.working(key, valueId, this.units);
      if (this.open?.valueId === valueId) this.working = working;
    } catch (error) {
      if (error instanceof Problem && error.status === 410 && !again) {
        await this.attempt();
        return;
      }
      this.workingTrouble = sentence(error);
    }
  }

  close(): void {
    this.open = null;
    this.working = null;
    this.workingTrouble = '';
  }
}

const refused = (view: View) => view.faults.some((one) => one.kind === 'refuse');

function kindOf(edit: Edit): string {
  if (edit.move !== undefined) return 'move';
  if (edit.part !== undefined) return 'part';
  if (edit.copyOf !== undefined || edit.preset !== undefined) return 'copy';
  return 'value';
}

/** Two moves of one height as one; null where they are not. */
function together(last: Edit | undefined, next: Edit | undefined): Edit | null {
  if (!last || !next || last.path !== next.path) return null;
  const [a, b] = [last, next].map((one) => /^([-+]?\d+(?:\.\d+)?) (\S+)$/u.exec(one.move ?? ''));
  if (!a || !b || a[2] !== b[2]) return null;
  return { ...next, step: last.step, move: `${Number((Number(a[1]) + Number(b[1])).toFixed(2))} ${a[2]}` };
}

function under(path: string, above: string, by = '.'): boolean {
  return path.startsWith(above + by);
}

export function newest(a: Draft | null, b: Draft | null): Draft | null {
  if (!a) return b;
  if (!b) return a;
  return Date.parse(a.at) >= Date.parse(b.at) ? a : b;
}
