import type { Build, Cell, View } from '../api/contract';

/** The answers to one state of the job: the quick one, and the full one if the hand rested long enough. */
export interface Answered {
  quick: View | null;
  full: View | null;
}

/** What the last change was made on. */
export interface Before extends Answered {
  /** Builds that were changed; null where it was the car, or something that all share. */
  touched: string[] | null;
}

/** The builds that edits are of; null where one of them is of none. */
export function touchedBy(paths: string[]): string[] | null {
  const ids = paths.map((path) => /^builds\.([^.]+)/u.exec(path)?.[1]);
  return ids.some((id) => id === undefined) ? null : (ids as string[]);
}

/**
 * Of other builds the draws alone are others, which moves a last digit: no change. A build that takes its parts from one
 * that was changed has changed with it; where it was the baseline, all have.
 */
function touched(edited: string[] | null, was: View, now: View): string[] | null {
  if (edited === null) return null;
  // What is fitted and set, not what the lists offer: that changes with what other builds have.
  const parts = (view: View, id: string) =>
    JSON.stringify(view.builds.find((one) => one.id === id)?.controls?.map((one) => [one.path, one.value]));
  const all = now.builds.filter((one) => edited.includes(one.id) || parts(was, one.id) !== parts(now, one.id));
  return all.some((one) => one.reference) ? null : all.map((one) => one.id);
}

/** A figure without its band: a band that narrows is no change. */
export const bare = (text: string) => text.replace(/\s*\([^()]*\)$/u, '');
const waiting = (cell: Cell) => cell.text === '…';

/** What stood in the place of a figure before the last change; nothing where it did not change. */
export class Since {
  private readonly before: View | null;
  private readonly now: View | null;
  private readonly touched: string[] | null;

  /** A quick answer is held against a quick one, a full one against a full one where there is one. */
  constructor(before: Before | null, now: View | null) {
    const was = now?.full ? (before?.full ?? before?.quick) : (before?.quick ?? before?.full);
    this.touched = was && now ? touched(before?.touched ?? null, was, now) : null;
    // Another load state, other units: nothing that could be compared.
    this.before = was && now && was.load === now.load && was.units === now.units ? was : null;
    this.now = now;
  }

  private compared(build: string): boolean {
    return this.touched === null || this.touched.includes(build);
  }

  private column(view: View, build: string): number {
    return view.builds.findIndex((one) => one.id === build);
  }

  private differs(was: Cell | undefined, cell: Cell | undefined): Cell | null {
    if (!was || !cell || waiting(was) || waiting(cell)) return null;
    return bare(was.text) === bare(cell.text) && was.verdict === cell.verdict ? null : { ...was, text: bare(was.text) };
  }

  /** The cell of a finding, or of a table's row, before the change. */
  cell(code: string, build: string): Cell | null {
    if (!this.before || !this.now || !this.compared(build)) return null;
    const k = this.column(this.before, build);
    const j = this.column(this.now, build);
    if (k < 0 || j < 0) return null;
    const find = (view: View) => {
      const [kind, table, row] = code.split('\u0000');
      return kind === 'table'
        ? view.tables.find((one) => one.id === table)?.rows[Number(row)]
        : view.rows.find((one) => one.code === code);
    };
    const was = find(this.before);
    const is = find(this.now);
    if (was && is && 'label' in was && was.label !== is.label) return null;
    return this.differs(was?.cells[k], is?.cells[j]);
  }

  /** What a table's row is asked for by. */
  tableCode(table: string, row: number): string {
    return ['table', table, row].join('\u0000');
  }

  /** The build before the change, where one of its strips or its price is another. */
  build(build: string): Build | null {
    const was = this.before?.builds.find((one) => one.id === build);
    const is = this.now?.builds.find((one) => one.id === build);
    if (!was || !is || !this.compared(build)) return null;
    const text = (one: Build) =>
      JSON.stringify([one.sub, one.price, one.hours, one.strips.map((s) => [s.bumpLeft.shown, s.droopLeft.shown])]);
    return text(was) === text(is) ? null : was;
  }

  /** Findings in the order of how bad they are now or were before: what was just mended stays in sight until the next change. */
  worst(many: number): string[] {
    const rank = new Map<string, number>();
    for (const view of [this.now, this.before])
      view?.rows.forEach((row, k) => rank.set(row.code, Math.min(k, rank.get(row.code) ?? Infinity)));
    const rows = this.now?.rows ?? [];
    return rows
      .map((row) => row.code)
      .sort((a, b) => (rank.get(a) ?? 0) - (rank.get(b) ?? 0))
      .slice(0, many);
  }
}
