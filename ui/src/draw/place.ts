import type { Build, Strip } from '../api/contract';

/** A strip with every height it is drawn from; what is not known takes the next thing that is. */
export interface Drawn {
  open: number;
  rest: number;
  restLow: number;
  restHigh: number;
  touch: number;
  solid: number;
  closed: number;
  /** No end is known there: neither stop nor metal upward, no open length downward. */
  endless: { bump: boolean; droop: boolean };
}

/** Null where nothing says where the corner sits: then there is nothing to draw. */
export function drawn(strip: Strip, span: { min: number; max: number } = strip): Drawn | null {
  if (strip.rest === null || !Number.isFinite(strip.rest)) return null;
  const closed = strip.closed ?? span.max;
  const solid = strip.solid ?? closed;
  return {
    open: strip.open ?? span.min,
    rest: strip.rest,
    restLow: strip.restLow ?? strip.rest,
    restHigh: strip.restHigh ?? strip.rest,
    touch: strip.touch ?? solid,
    solid,
    closed,
    endless: {
      bump: strip.closed === null && strip.solid === null && strip.touch === null,
      droop: strip.open === null,
    },
  };
}

/** The range that all strips side by side share, so that one millimetre is one height everywhere. */
export function range(builds: Build[]): { min: number; max: number } {
  let min = Infinity;
  let max = -Infinity;
  for (const build of builds) {
    for (const strip of build.strips) {
      min = Math.min(min, strip.min, strip.open ?? strip.min);
      max = Math.max(max, strip.max, strip.closed ?? strip.max);
    }
  }
  if (!Number.isFinite(min) || !(max > min)) return { min: -1, max: 1 };
  // Room for an end that is not known: a third of what is.
  const strips = builds.flatMap((one) => one.strips).filter((one) => one.rest !== null);
  const room = (max - min) / 3;
  if (strips.some((one) => one.open === null)) min -= room;
  if (strips.some((one) => one.closed === null && one.solid === null && one.touch === null)) max += room;
  return { min, max };
}

export interface Scale {
  /** Height on the drawing of a wheel travel; bump is up. */
  y: (travel: number) => number;
  /** Wheel travel at a height on the drawing. */
  travel: (y: number) => number;
}

export function scale(min: number, max: number, top: number, height: number): Scale {
  const perUnit = height / (max - min);
  return {
    y: (travel) => top + (max - travel) * perUnit,
    travel: (y) => max - (y - top) / perUnit,
  };
}

/** Round steps for the ticks: 1, 2 or 5 of a power of ten, about `wanted` of them. */
export function ticks(min: number, max: number, wanted = 4): number[] {
  if (!(max > min)) return [];
  const rough = (max - min) / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((k) => k * power).find((k) => k >= rough) ?? rough;
  const out: number[] = [];
  for (let t = Math.ceil(min / step) * step; t <= max + step / 1e6; t += step)
    out.push(Math.abs(t) < step / 1e6 ? 0 : t);
  return out;
}

/** Heights of the two figures beside a bar: in the middle of their zones, but never closer than a finger needs. */
export function figuresAt(strip: Drawn, s: Scale, top: number, bottom: number, apart = 44): [number, number] {
  const rest = s.y(strip.rest);
  let bump = (rest + s.y(Math.max(strip.touch, strip.rest))) / 2;
  let droop = (rest + s.y(Math.min(strip.open, strip.rest))) / 2;
  if (droop - bump < apart) {
    const middle = Math.min(Math.max(rest, top + apart / 2), bottom - apart / 2);
    bump = Math.min(bump, middle - apart / 2);
    droop = bump + apart;
  }
  const low = top + apart / 2 - 8;
  if (bump < low) {
    droop += low - bump;
    bump = low;
  }
  const high = bottom - apart / 2 + 8;
  if (droop > high) {
    bump = Math.min(bump, high - apart);
    droop = high;
  }
  return [bump, droop];
}

/** An amount as it would be typed in the strip's unit: "-12.5 mm". */
export function amount(by: number, unit: string): string {
  const places = unit === 'in' ? 2 : 1;
  return `${by.toFixed(places).replace(/\.?0+$/, '')} ${unit}`.replace(/^-0 /, '0 ');
}
