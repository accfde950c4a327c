import type { FoundBuild } from '../api/contract';

/** What is wished for, and how much it matters in five notches: 0 does not matter, 4 matters most. */
export const wishes = [
  { code: 'comfort', label: 'Comfort on the brief’s roads' },
  { code: 'control', label: 'Body control' },
  { code: 'grip', label: 'Even tyre load' },
  { code: 'price', label: 'Low price' },
  { code: 'hours', label: 'Few hours of work' },
  { code: 'stance', label: 'Low stance' },
] as const;
export type Wish = (typeof wishes)[number]['code'];
export type Weights = Record<Wish, number>;

export const notches = ['does not matter', 'matters a little', 'matters', 'matters a lot', 'matters most'];
/** A notch counts twice the one before it: chosen. */
const counts = [0, 1, 2, 4, 8];
export const usual: Weights = { comfort: 3, control: 3, grip: 1, price: 1, hours: 1, stance: 0 };

const figure = (build: FoundBuild, code: string) => build.aims.find((one) => one.code === code)?.value ?? null;

/**
 * Builds by what is wished for, the best first: each figure as a share of the way from the best to the worst of them, less is
 * better in all. Those that lack something come behind those that hold everything.
 */
export function sorted(list: FoundBuild[], weights: Weights): FoundBuild[] {
  const worth = new Map<FoundBuild, number>(list.map((one) => [one, 0]));
  for (const wish of wishes) {
    const weight = counts[weights[wish.code]] ?? 0;
    const values = list.map((one) => figure(one, wish.code)).filter((one) => one !== null);
    const low = Math.min(...values);
    const wide = Math.max(...values) - low;
    if (weight === 0 || !(wide > 0)) continue;
    for (const one of list) {
      const value = figure(one, wish.code);
      worth.set(one, (worth.get(one) ?? 0) + weight * (value === null ? 1 : (value - low) / wide));
    }
  }
  return [...list].sort((a, b) => Number(b.holds) - Number(a.holds) || (worth.get(a) ?? 0) - (worth.get(b) ?? 0));
}
