import type { Edit } from '../api/contract';

/** A spring's rate as a number in its unit: what was typed since counts before what the server shows. */
export function rateOf(typed: string, shown: string): { number: number; unit: string } | null {
  const inUnit = /^(\d+(?:[.,]\d+)?)\s*(N\/mm|lbf?\/in)/u;
  // A maker's word, an estimate and a band are shown by the server; a bare rate was typed on this page.
  const [, number, unit] = inUnit.exec(typed) ?? inUnit.exec(shown) ?? [];
  return number && unit ? { number: Number(number.replace(',', '.')), unit } : null;
}

/**
 * Another rate for the spring at a place of a build: a spring of its own, like the one that is fitted but for its rate
 * (use), so that no other build changes. One that began so has its rate changed.
 */
export function rateEdits(
  path: string,
  spring: string,
  rate: number,
  unit: string,
  like: string,
  taken: string[],
): Edit[] {
  const value = `${rate} ${unit}`;
  if (like !== '') return [{ path: `parts.springs.${spring}.rate`, value }];
  const place = path
    .replace(/^builds\./u, '')
    .replace(/\.spring$/u, '')
    .replace(/\W+/gu, '-');
  let k = 1;
  while (taken.some((one) => one.startsWith(`parts.springs.${place}-${k}.`))) k++;
  const id = `${place}-${k}`;
  return [
    { path: `parts.springs.${id}`, value: `{use: ${spring}, rate: ${value}}` },
    { path, value: id },
  ];
}
