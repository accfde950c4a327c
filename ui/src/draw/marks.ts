import { symbol, symbolsFill } from 'd3-shape';
import type { Chart } from '../api/contract';

export type MarkKind = NonNullable<Chart['marks']>[number]['kind'];

/** The shape a mark has, as a path about 0 0: each kind its own, so that it is told without colour. */
export const markPath: Record<MarkKind, string> = {
  'front-stop': 'M0-5.5 5.5 4.5H-5.5Z',
  'rear-stop': 'M-4.5-4.5h9v9h-9Z',
  lift: 'M-5 0a5 5 0 1 0 10 0a5 5 0 1 0-10 0Z',
  droop: 'M0-6 4 0 0 6-4 0Z',
  end: 'M-4.5-4.5 4.5 4.5M4.5-4.5-4.5 4.5',
  place: 'M-5 0H5M0-5V5',
};

export const markNames: Record<MarkKind, string> = {
  'front-stop': 'front stop met',
  'rear-stop': 'rear stop met',
  lift: 'wheel off the ground',
  droop: 'no rebound travel left',
  end: 'no farther',
  place: 'a place',
};

/** A line's height at a place between its points; its end where the place is past it; null where it has none. */
export function onLine(x: number[], y: number[], at: number): number | null {
  const last = x.length - 1;
  if (last < 0) return null;
  if (at <= (x[0] ?? 0)) return y[0] ?? null;
  for (let k = 1; k <= last; k++) {
    const from = x[k - 1] ?? 0;
    const to = x[k] ?? 0;
    if (at <= to) {
      const low = y[k - 1] ?? 0;
      const high = y[k] ?? 0;
      return to === from ? high : low + ((high - low) * (at - from)) / (to - from);
    }
  }
  return y[last] ?? null;
}

/** The mark of something that happens on the way. */
export function eventPath(event: { kind: string; corner?: string }): string {
  if (event.kind === 'lift') return markPath.lift;
  if (event.kind === 'droop') return markPath.droop;
  if (event.kind === 'end') return markPath.end;
  return event.corner?.startsWith('rear') ? markPath['rear-stop'] : markPath['front-stop'];
}

/** The mark of a wheel's state; corner counts front left, front right, rear left, rear right. */
export function wheelPath(state: string, corner: number): string {
  if (state === 'stop') return corner < 2 ? markPath['front-stop'] : markPath['rear-stop'];
  return state === 'droop' ? markPath.droop : markPath.lift;
}

/** The shape of a point of a series: each its own; those of the many are small. */
export const pointPath = (k: number) => symbol(symbolsFill[k % symbolsFill.length], k < 2 ? 36 : 90)() ?? '';
