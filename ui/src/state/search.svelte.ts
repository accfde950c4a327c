import type { FoundRequest, FoundSearch, Server, Units } from '../api/contract';
import { sentence } from '../api/problem';

/** How often the server is asked while a search runs, for a page whose stream was cut [ms]. */
const lookEvery = 4000;

/** The search of a job: begun, watched, stopped. It runs on the server and outlives the page. */
export class Searching {
  now = $state.raw<FoundSearch | null>(null);
  trouble = $state('');
  private readonly server: Server;
  private readonly job: string;
  private units: Units = 'metric';
  private timer: ReturnType<typeof setTimeout> | undefined;

  constructor(server: Server, job: string) {
    this.server = server;
    this.job = job;
  }

  get running(): boolean {
    return this.now?.state === 'running';
  }

  /** Takes up the job's newest search, and listens; what it returns ends that. */
  watch(units: Units): () => void {
    this.units = units;
    void this.look();
    const end = this.server.events({
      search: (told) => {
        if (told.job !== this.job) return;
        if (told.state !== 'running' || told.id !== this.now?.id) void this.look();
        else if (this.now) this.now = { ...this.now, step: told.step, done: told.done, total: told.total };
      },
    });
    return () => {
      end();
      clearTimeout(this.timer);
    };
  }

  async begin(request: FoundRequest): Promise<void> {
    this.trouble = '';
    try {
      this.now = await this.server.startSearch(this.job, request);
      this.later();
    } catch (error) {
      this.trouble = sentence(error);
    }
  }

  async stop(): Promise<void> {
    if (!this.now) return;
    try {
      await this.server.cancelSearch(this.now.id);
    } catch (error) {
      this.trouble = sentence(error);
    }
  }

  async look(): Promise<void> {
    try {
      const got = await this.server.newestSearch(this.job, this.units);
      this.now = got.id ? got : null;
      this.trouble = '';
    } catch (error) {
      this.trouble = sentence(error);
    }
    this.later();
  }

  private later(): void {
    clearTimeout(this.timer);
    if (this.running) this.timer = setTimeout(() => void this.look(), lookEvery);
  }
}
