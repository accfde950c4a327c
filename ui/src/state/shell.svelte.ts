import type { Measuring, Server, Session, Units } from '../api/contract';
import { Problem, sentence } from '../api/problem';
import { keeping } from '../away/keeping';
import { tablet } from '../away/tablet';
import { Network } from '../away/network.svelte';
import { keepPage } from '../away/register';
import { belongTo, forget, keep, recall, whose } from './kept';
import { faceOf, fieldIn } from './measuring';
import { Outbox } from './outbox.svelte';
import { read, write, type Route } from './route';
import { giveScroll, noteScroll } from './scroll';

const helloEvery = 3000; // ms between asking anew while nobody answers

export type Theme = 'auto' | 'light' | 'dark';

/** What every page shares: who is here, where they are, units and light. */
export class Shell {
  readonly server: Server;
  readonly network = new Network();
  readonly outbox: Outbox;
  /** The server itself: what it says now, or that it says nothing. */
  private readonly direct: Server;
  session = $state<Session | null>(null);
  route = $state<Route>({ at: 'jobs' });
  /** Whose is what is typed and kept here. */
  owner = $state('');
  units = $state<Units>('metric');
  theme = $state<Theme>('auto');
  /** A newer page than this one has taken over. */
  renewed = $state(false);
  /** Whether the browser keeps the page itself; null while that is not known. */
  keepsPage = $state<boolean | null>(null);
  /** One sentence for everybody, also read out by screen readers. */
  said = $state('');
  trouble = $state('');
  tour = $state<number | null>(null);

  constructor(server: Server) {
    this.direct = server;
    this.server = keeping(server, this.network);
    this.outbox = new Outbox(this.server, () => server.session());
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
      if (!this.session?.person) return;
      this.session = { ...this.session, person: undefined, needsLogin: true };
      this.remember(this.session);
    });
    this.paint();
    this.outbox.start();
    if (import.meta.env.PROD)
      keepPage(
        () => (this.renewed = true),
        (does) => (this.keepsPage = does),
      );
    setInterval(() => {
      if (this.network.since !== null || this.session === null) void this.hello();
    }, helloEvery);
    // The tablet has lost its network: said at once, not when something is asked next.
    addEventListener('offline', () => void this.hello());
    await this.hello(true);
  }

  /** Asks who is here. While nobody answers, whoever was here last is, unless they signed out. */
  async hello(first = false): Promise<void> {
    this.asked ??= this.ask(first).finally(() => (this.asked = null));
    await this.asked;
  }

  private asked: Promise<void> | null = null;

  /** Signs somebody in; whoever signed out while the network was away is signed out first, or it would end this session. */
  async signIn(passphrase: string, person: string): Promise<void> {
    await this.asked;
    if (recall<boolean>('signed-out')) {
      await this.direct.logout().catch(() => undefined);
      forget('signed-out');
    }
    this.here(await this.server.login(passphrase, person));
  }

  private async ask(first: boolean): Promise<void> {
    try {
      // Somebody signed out while the network was away: the server has not heard of it yet.
      if (recall<boolean>('signed-out')) {
        await this.direct.logout().catch((error: unknown) => {
          if (error instanceof Problem && error.unreachable) throw error;
        });
        forget('signed-out');
      }
      this.here(await this.direct.session());
      this.network.answered();
    } catch (error) {
      if (error instanceof Problem && error.unreachable) this.network.lost();
      if (!first) return;
      const shelf = await import('../away/answers');
      const last = recall<boolean>('signed-out') ? null : await shelf.lastAnswer<Session | null>(tablet, 'session');
      if (last?.value) this.here(last.value);
      else this.trouble = sentence(error);
    }
  }

  /** Whoever was here last is here while nobody answers, unless the server shut them out. */
  private remember(session: Session): void {
    const value = session.needsLogin ? null : $state.snapshot(session);
    void import('../away/answers').then((shelf) => shelf.keepAnswer(tablet, 'session', value));
  }

  private belong(name: string): void {
    this.owner = name;
    belongTo(name);
    this.outbox.load();
  }

  /** Takes over who is here: what is shown and sent from now on is theirs. */
  here(session: Session): void {
    const name = session.needsLogin ? '' : (session.person?.name ?? '');
    if (recall<Units>('units') === null) this.units = session.units;
    this.trouble = '';
    if (!session.needsLogin && (name !== whose() || this.session === null)) {
      this.belong(name);
      // Somebody else's answers are not for whoever is here now; what they typed and did not send stays theirs.
      void import('../away/answers').then((shelf) => shelf.forgetAnswers(name, 'others'));
    }
    this.session = session;
    this.remember(session);
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

  /**
   * Signs out, here at once. What was answered is thrown away; what was typed and not sent stays on this machine, is
   * shown to nobody, and is sent when the same person is here again.
   */
  async leave(): Promise<void> {
    const left = this.outbox.many;
    const name = whose();
    try {
      await this.direct.logout();
    } catch (error) {
      if (!(error instanceof Problem) || !error.unreachable) {
        this.say(sentence(error));
        return;
      }
      keep('signed-out', true);
    }
    this.belong('');
    await (await import('../away/answers')).forgetAnswers(name, 'theirs');
    if (this.session) this.session = { ...this.session, person: undefined, people: [], needsLogin: true };
    this.say(
      left > 0 ? `Signed out. ${left} entries of ${name} wait on this tablet until ${name} signs in again.` : '',
    );
    if (!recall<boolean>('signed-out'))
      await this.direct.session().then(
        (session) => (this.session = session),
        () => undefined,
      );
  }

  say(text: string): void {
    this.said = text;
  }

  private paint(): void {
    document.documentElement.dataset.theme = this.theme;
  }
}
