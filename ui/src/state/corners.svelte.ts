import type { CornerRequest, Corners, Server, Units, Working } from '../api/contract';
import { Problem, sentence } from '../api/problem';
import { Asking } from './asking.svelte';

/** What of a corner is chosen on the page. */
export type Turn = Pick<CornerRequest, 'direction' | 'driving' | 'most' | 'fastest'>;

/**
 * The builds of the job on the desk, taken round a corner, and the workings of their figures.
 */
export class Cornering {
  private readonly server: Server;
  private readonly questions: Asking<CornerRequest, Corners>;
  /** The working that is open and the place it stands at, and the ones behind it. */
  open = $state<{ at: string; valueId: string } | null>(null);
  working = $state.raw<Working | null>(null);
  workingTrouble = $state('');
  trail = $state<string[]>([]);

  constructor(server: Server) {
    this.server = server;
    // What cannot be read leaves the last good answer in sight; the page's head says what is wrong.
    this.questions = new Asking<CornerRequest, Corners>(
      (question) => server.corner(question),
      (got) => got.builds.length > 0 || !got.faults.some((one) => one.kind === 'refuse'),
    );
  }

  get answer(): Corners | null {
    return this.questions.answer;
  }
  get asking(): boolean {
    return this.questions.asking;
  }
  get trouble(): string {
    return this.questions.trouble;
  }

  async ask(request: CornerRequest): Promise<void> {
    // The call that began the asking also fetches the working, once the newest answer is there.
    const busy = this.asking;
    await this.questions.ask(request);
    if (!busy && this.open) await this.fetch(this.open.valueId, this.units);
  }

  private units: Units = 'metric';

  /** Opens the working of a figure at a place; the same again closes it. */
  async explain(at: string, valueId: string, units: Units): Promise<void> {
    if (this.open?.at === at && this.open.valueId === valueId) {
      this.close();
      return;
    }
    this.working = null;
    this.trail = [];
    this.open = { at, valueId };
    await this.fetch(valueId, units);
  }

  /** Goes into a term's own working. */
  async into(valueId: string): Promise<void> {
    if (!this.open) return;
    this.trail = [...this.trail, this.open.valueId];
    this.open = { at: this.open.at, valueId };
    await this.fetch(valueId, this.units);
  }

  async back(): Promise<void> {
    const last = this.trail.at(-1);
    if (!this.open || last === undefined) return;
    this.trail = this.trail.slice(0, -1);
    this.open = { at: this.open.at, valueId: last };
    await this.fetch(last, this.units);
  }

  close(): void {
    this.open = null;
    this.working = null;
    this.workingTrouble = '';
    this.trail = [];
  }

  private async fetch(valueId: string, units: Units): Promise<void> {
    this.units = units;
    this.workingTrouble = '';
    const key = this.answer?.key;
    if (!key) return;
    try {
      const working = await this.server.working(key, valueId, units);
      if (this.open?.valueId === valueId) this.working = working;
    } catch (error) {
      if (this.open?.valueId !== valueId) return;
      this.workingTrouble =
        error instanceof Problem && error.status === 410
          ? 'This answer is no longer kept. Change something, or choose the turn again, and it is computed anew.'
          : sentence(error);
    }
  }
}
