import type { Measuring, MeasuringCard, MeasuringField } from '../api/contract';
import type { Face } from './route';

/** Whether a path of a job is one that a field's path stands for: * is an id, [] an entry of a list. */
export function matches(field: string, path: string): boolean {
  const a = field.split('.');
  const b = path.replace(/\[\d+\]/gu, '[]').split('.');
  return a.length === b.length && a.every((part, k) => part === '*' || part === b[k]);
}

/** The same path of a part that stands under parts, for one that a build holds itself: builds.kit.front.damper.open. */
export function inParts(measuring: Measuring | null, path: string): string {
  const [, part, rest] = /^(builds\.[^.]+\.(?:front|rear)(?:\.(?:left|right))?\.[a-z]+)\.(.+)$/u.exec(path) ?? [];
  if (!part || !rest) return path;
  for (const card of measuring?.cards ?? [])
    for (const field of card.fields)
      if (field.section && matches(field.path, part)) return `parts.${field.section}.it.${rest}`;
  return path;
}

/** The card on which a path is typed; of a path that leads to several fields that of the first. */
export function cardOf(measuring: Measuring | null, path: string): MeasuringCard | null {
  const at = inParts(measuring, path);
  const depth = at.split('.').length;
  const leads = (field: string) => {
    const parts = field.split('.');
    return (
      parts.length >= depth &&
      matches(parts.slice(0, depth).join('.').replace(/\[\]$/u, ''), at.replace(/\[\d*\]$/u, ''))
    );
  };
  const cards = measuring?.cards ?? [];
  return (
    cards.find((card) => card.fields.some((field) => matches(field.path, at))) ??
    cards.find((card) => card.fields.some((field) => leads(field.path))) ??
    null
  );
}

/** The page that has the field of a path. */
export function faceOf(measuring: Measuring | null, path: string): Face {
  const own: Record<string, Face> = {
    brief: 'brief',
    loads: 'brief',
    handover: 'handover',
    builds: 'parts',
    parts: 'parts',
  };
  if (path === 'job.words') return 'brief';
  return cardOf(measuring, path)?.page ?? own[path.split('.')[0] ?? ''] ?? 'car';
}

/** The field of a path: itself, one below it, or the nearest above it. */
export function fieldIn(root: ParentNode, path: string): HTMLElement | null {
  const all = [...root.querySelectorAll<HTMLElement>('[data-path]')];
  for (let at = path; at.includes('.'); at = at.slice(0, at.lastIndexOf('.'))) {
    const found =
      all.find((one) => one.dataset.path === at) ??
      all.find((one) => one.dataset.path?.startsWith(`${at}.`) || one.dataset.path?.startsWith(`${at}[`));
    if (found) return found;
    if (at.split('.').length <= 2) break;
  }
  return null;
}

const bare = /^[+\-−]?[\d., ]*\d(\s*(±|\+-|\+\/-)\s*[\d.,]*\d)?$/u;

/**
 * What is typed into a field as the job file has it: a bare number gets the unit that stands beside it, a row stands in
 * brackets. Anything else is kept as it is typed.
 */
export function asTyped(text: string, field: Pick<MeasuringField, 'form' | 'unit'> | undefined): string {
  const said = text.trim();
  if (!field || said === '') return said;
  if (field.form === 'row') {
    const inside = said.replace(/^\[|\]$/gu, '').trim();
    const numbers = inside.split(/\s*[;\t]\s*|\s*,\s+|\s+(?=[-+−\d])/u).filter(Boolean);
    const last = numbers.at(-1) ?? '';
    const unit = field.unit && bare.test(last) ? ` ${field.unit}` : '';
    return `[${numbers.join(', ')}${unit}]`;
  }
  if (!field.unit || !bare.test(said)) return said;
  return field.form === 'band' ? `± ${said} ${field.unit}` : `${said} ${field.unit}`;
}

/** A table pasted from a sheet: its columns of numbers, or what is wrong with it. A line without numbers is its head. */
export function pasted(text: string, columns: number): { rows: string[][]; fault: string } {
  const rows: string[][] = [];
  for (const [k, line] of text.split(/\r?\n/u).entries()) {
    if (line.trim() === '') continue;
    const cells = (/[\t;]/u.test(line) ? line.split(/[\t;]/u) : line.trim().split(/,?\s+/u)).map((one) =>
      one.trim().replace(/^(\d+),(\d+)$/u, '$1.$2'),
    );
    if (!cells.some((one) => /\d/u.test(one))) continue;
    if (cells.length < columns || cells.slice(0, columns).some((one) => !/^[+\-−]?\d+(\.\d+)?$/u.test(one)))
      return { rows, fault: `Line ${k + 1}, “${line.trim()}”: ${columns} numbers are needed.` };
    rows.push(cells.slice(0, columns).map((one) => one.replace('−', '-')));
  }
  return { rows, fault: rows.length < 2 ? 'Two lines of numbers at least.' : '' };
}

/** What stands in a list or under ids, in the order of the text: car.weighed.aboard[0], parts.dampers.kit.curves.c0. */
export function itemsUnder(paths: string[], list: string): string[] {
  const seen: string[] = [];
  const dict = list.endsWith('.*');
  const at = list.replace(/\.\*$|\[\]$/u, '');
  for (const path of paths) {
    if (!path.startsWith(at)) continue;
    const rest = path.slice(at.length);
    const item = dict ? /^\.[^.[]+/u.exec(rest)?.[0] : /^\[\d+\]/u.exec(rest)?.[0];
    if (item && !seen.includes(at + item)) seen.push(at + item);
  }
  return seen;
}

/** Up to which key a path's last id or index goes: car.front.bar.holes.* of car.front.bar.holes.*.arm; empty without one. */
export function listOf(path: string): string {
  const star = path.lastIndexOf('.*');
  const square = path.lastIndexOf('[]');
  if (star < 0 && square < 0) return '';
  return path.slice(0, Math.max(star, square) + 2);
}
