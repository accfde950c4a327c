import type { Verdict } from '../api/contract';

/** The word that stands beside the shape. */
export const word: Record<Verdict, string> = {
  clear: 'clear',
  close: 'close',
  over: 'over',
  'no-limit': 'no limit set',
  unknown: 'not known',
};

/** Worst first. */
export const order: Verdict[] = ['over', 'close', 'unknown', 'clear', 'no-limit'];

export function worst(list: Verdict[]): Verdict {
  return order.find((one) => list.includes(one)) ?? 'unknown';
}
