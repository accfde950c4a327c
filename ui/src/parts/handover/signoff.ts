import type { Edit, SheetCheck } from '../../api/contract';

/** The day on this machine, as the job file writes it. */
export function today(now = new Date()): string {
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
}

/** A line of the final checks as done, by whom and when. */
export function doneEdits(check: Pick<SheetCheck, 'key' | 'what'>, by: string, day: string): Edit[] {
  const path = `handover.checks.${check.key}`;
  const label = `${check.what}: done`;
  return [
    { path: `${path}.state`, value: 'done', label },
    { path: `${path}.by`, value: by.trim(), label },
    { path: `${path}.date`, value: day.trim(), label },
  ];
}

/** The checks among some changes, by what was said of them last: "done: Brake hoses free, …; does not apply: …". */
export function checksIn(edits: Edit[]): string {
  const said: Record<string, { what: string; state: string }> = {};
  for (const one of edits) {
    const key = /^handover\.checks\.(\w+)\.state$/u.exec(one.path)?.[1];
    const [what, state] = (one.label ?? '').split(': ');
    if (key && what && state) said[key] = { what, state };
  }
  const by: Record<string, string[]> = {};
  for (const one of Object.values(said)) (by[one.state] ??= []).push(one.what);
  const text = Object.entries(by)
    .map(([state, list]) => `${state}: ${list.join(', ')}`)
    .join('; ');
  const most = 500; // letters of a reason
  return text.length <= most ? text : `${text.slice(0, most - 1)}…`;
}
