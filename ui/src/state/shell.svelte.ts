import type { Measuring, Server, Session, Units } from '../api/contract';
import { sentence } from '../api/problem';
import { keep, recall } from './kept';
import { faceOf, fieldIn } from './measuring';
import { read, write, type Route } from './route';
import { giveScroll, noteScroll } from './scroll';

export type Theme = 'auto' | 'light' | 'dark';

/** What every page shares: who is here, where they are, units and light. */
export class Shell {
  readonly server: Server;
  session = $state<Session | null>(null);
  route = $state<Route>({ at: 'jobs' });
  units = $state<Units>('metric');
  theme = $state<Theme>('auto');
  /** One sentence for everybody, also read out by screen readers. */
  said = $state('');
  trouble = $state('');
  tour = $state<number | null>(null);

  constructor(server: Server) {
    this.server = server;
    this.units = recall<Units>('units') ?? 'metric';
    this.theme = recall<Theme>('theme') ?? 'auto';
  }

  async start(): Promise<void> {
    this.route = read(location.pathname);
    noteScroll();
    giveScroll(history.state);
    addEventListener('popstate', (event) => {
      this.route = read(location.pathname);
      giveScroll(event.state);
    });
    addEventListener('shut-out', () => {
      if (this.session?.person) this.session = { ...this.session, person: undefined, needsLogin: true };
    });
    this.paint();
    try {
      this.session = await this.server.session();
      if (recall<Units>('units') === null) this.units = this.session.units;
      this.trouble = '';
    } catch (error) {
      this.trouble = sentence(error);
    }
  }

  go(route: Route): void {
    const path = write(route);
    if (path !== location.pathname) history.pushState(null, '', path);
    this.route = route;
    giveScroll(null);
    document.querySelector('main')?.scrollTo?.(0, 0);
  }

  /** Where every key of a job is typed and how it is measured, in the units of the page. */
  measuring = $state.raw<Measuring | null>(null);
  private measuringIn: Units | null = null;

  needMeasuring(): void {
    const units = this.units;
    if (this.measuringIn === units) return;
    this.measuringIn = units;
    this.server.measuring(units).then(
      (got) => {
        if (this.units === units) this.measuring = got;
      },
      () => (this.measuringIn = null),
    );
  }

  /** The field that somebody was sent to: pages that show a part of a job at a time turn to it. */
  wanted = $state('');

  /** Shows the field of a job in which a value is typed, on the page that has it, and puts the cursor there. */
  toField(job: string, path: string): void {
    this.wanted = path;
    this.go({ at: 'job', id: job, face: faceOf(this.measuring, path) });
    const until = Date.now() + 4000;
    const look = () => {
      const field = fieldIn(document, path);
      if (field) {
        for (let fold = field.closest('details'); fold; fold = fold.parentElement?.closest('details') ?? null)
          fold.open = true;
        field.scrollIntoView({ block: 'center' });
        field.focus();
        return;
      }
      // The page comes first, then its fields.
      if (Date.now() < until) setTimeout(look, 50);
      else this.say('The page has no field for this: change it in the job file.');
    };
    look();
  }

  /** For links: a plain click stays in the page, anything else is the browser's. */
  follow = (event: MouseEvent): void => {
    const link = (event.target as Element | null)?.closest?.('a');
    if (!link || event.defaultPrevented || event.button !== 0) return;
    if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    if (link.target || link.hasAttribute('download') || link.origin !== location.origin) return;
    if (link.pathname.startsWith('/api/') || link.hash) return;
    event.preventDefault();
    this.go(read(link.pathname));
  };

  /** Who is at this page: who logged in, or who was named at the last save. */
  get me(): string {
    return this.session?.person?.name ?? recall<string>('who') ?? '';
  }

  setUnits(units: Units): void {
    this.units = units;
    keep('units', units);
    if (this.measuring) this.needMeasuring();
  }

  setTheme(theme: Theme): void {
    this.theme = theme;
    keep('theme', theme);
    this.paint();
  }

  async leave(): Promise<void> {
    try {
      await this.server.logout();
      this.session = await this.server.session();
    } catch (error) {
      this.say(sentence(error));
    }
  }

  say(text: string): void {
    this.said = text;
  }

  private paint(): void {
    document.documentElement.dataset.theme = this.theme;
  }
}
