import type { View } from '../api/contract';

type Row = View['rows'][number];
type Table = View['tables'][number];
type Cell = Row['cells'][number];

const grade = ['over', 'close', 'unknown', 'clear', 'no-limit'];
const gradeOf = (verdict: string) => grade.indexOf(verdict);

/** Stands where only the full answer has a figure, until it is there. */
const waiting: Cell = { verdict: 'no-limit', text: '…', word: '', state: 'ok', tier: 'static' };
const blank = <T extends { cells: Cell[] }>(row: T): T => ({ ...row, cells: row.cells.map(() => waiting) });

const sameBuilds = (a: View, b: View) =>
  a.builds.length === b.builds.length && a.builds.every((one, k) => one.id === b.builds[k]?.id);

/** Puts what the full answer has alone behind its neighbour of before. */
function between<T>(before: T[], now: T[], key: (one: T) => string, kept: (one: T) => T): T[] {
  const out = [...now];
  before.forEach((one, k) => {
    if (now.some((other) => key(other) === key(one))) return;
    const above = k === 0 ? -1 : out.findIndex((other) => key(other) === key(before[k - 1] as T));
    out.splice(above + 1, 0, kept(one));
  });
  return out;
}

/**
 * A quick answer in the place of a full one. What only the full answer has keeps its line, without its figures: they
 * are of the state before.
 */
export function quickAfter(before: View | null, now: View): View {
  if (!before || now.full || !before.rows.length || !sameBuilds(before, now)) return now;
  const tables = between(
    before.tables,
    now.tables,
    (one: Table) => one.id,
    (one) => ({ ...one, rows: one.rows.map(blank) }),
  );
  return { ...now, rows: between(before.rows, now.rows, (one) => one.code, blank), tables };
}

/**
 * The full answer in the place of a quick one to the same question. Lines stay where they are; new ones come behind the
 * last that is as grave.
 */
export function fullAfter(before: View | null, full: View): View {
  if (!before || !sameBuilds(before, full)) return full;
  const rows: Row[] = [];
  for (const one of before.rows) {
    const found = full.rows.find((row) => row.code === one.code);
    if (found) rows.push(found);
  }
  for (const one of full.rows) {
    if (rows.includes(one)) continue;
    const last = rows.findLastIndex((row) => gradeOf(row.verdict) <= gradeOf(one.verdict));
    rows.splice(last + 1, 0, one);
  }
  return {
    ...full,
    rows,
    builds: full.builds.map((build, k) => ({ ...build, strips: scaled(before, build.strips, k) })),
  };
}

type Strips = View['builds'][number]['strips'];

/** Strips on the scale that they stood on, wider where they need it: a band that narrows moves no mark. */
function scaled(before: View, strips: Strips, build: number): Strips {
  const was = before.builds[build]?.strips[0];
  if (!was) return strips;
  return strips.map((one) => ({ ...one, min: Math.min(one.min, was.min), max: Math.max(one.max, was.max) }));
}

/** Whether a row stands open: some build is not clear there. */
export const loud = (row: Row) =>
  row.cells.some((cell) => cell.verdict === 'over' || cell.verdict === 'close' || cell.verdict === 'unknown');
