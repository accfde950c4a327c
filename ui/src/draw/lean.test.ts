import { describe, expect, it } from 'vitest';
import type { CornerBuild, CornerFrame, CornerPoint } from '../api/contract';
import { diving, fit, hanging, leaning, mostLoad, pointAt, stopsOf } from './lean';
import { markPath, onLine } from './marks';

const frame: CornerFrame = {
  wheelbase: 2700,
  track: [1556, 1544],
  radius: 310,
  tyre: 205,
  height: 1470,
  mass: 575,
  note: '',
};
const point = (at: number, roll: number, load = 400): CornerPoint => ({
  at,
  shown: `${at.toFixed(2)} g`,
  roll,
  pitch: 0,
  lift: [0, 0],
  centres: [70, 115],
  rolls: '',
  dips: '',
  share: '',
  says: '',
  wheels: [0, 1, 2, 3].map(() => ({ load, loaded: '', gap: 0, travel: '', state: 'free' as const, word: '' })),
});
const build = (...points: CornerPoint[]): CornerBuild => ({
  build: 'kit',
  name: 'Kit',
  reference: false,
  verdict: 'clear',
  sentence: '',
  against: '',
  reached: points.at(-1)?.at ?? 0,
  events: [],
  figures: [],
  choices: [],
  points,
});

describe('the car from behind', () => {
  it('is drawn to one scale both ways, and fits', () => {
    const scale = fit(frame, 300, 220);
    expect(frame.height * scale.per).toBeLessThan(220);
    expect((1556 + 2 * 205) * scale.per).toBeLessThan(300);
  });

  it('leans its right side down in a left turn, larger by the factor, about its roll centre', () => {
    const scale = { per: 0.1, ground: 200, middle: 150 };
    expect(leaning(point(0.6, 3), 0, scale, 1)).toBe('translate(150 200.00) rotate(3.000 0 -7.00)');
    expect(leaning(point(0.6, -3), 1, scale, 3)).toBe('translate(150 200.00) rotate(-9.000 0 -11.50)');
    const dip = diving({ ...point(0.6, 0), pitch: 1.5, lift: [-30, 10] }, 0.1, 2);
    expect(dip.turn).toBe(-3);
    expect(dip.lift).toBeCloseTo(-1, 12);
  });
});

describe('a wheel off the ground', () => {
  it('hangs over it by its gap, larger by the factor, and by nothing where it stands', () => {
    const lifted = point(0.9, 4);
    lifted.wheels = lifted.wheels.map((w, k) => (k === 2 ? { ...w, state: 'air' as const, gap: 20 } : w));
    expect(hanging(lifted, 2, 0.2, 3)).toBeCloseTo(12, 12);
    expect(hanging(lifted, 0, 0.2, 3)).toBe(0);
  });
});

describe('the slider', () => {
  it('stops where the build that was held farthest has points, and the others stay at their last', () => {
    const far = build(point(0, 0), point(0.5, 2), point(1, 4, 700));
    const near = build(point(0, 0), point(0.5, 3), point(0.73, 5));
    const stops = stopsOf([near, far], 1);
    expect(stops).toEqual([0, 0.5, 1]);
    expect(pointAt(near, 1)?.at).toBe(0.73);
    expect(pointAt(far, 0.51)?.at).toBe(0.5);
    expect(pointAt(build(), 0.5)).toBeNull();
    expect(mostLoad([near, far])).toBe(700);
  });
});

describe('a mark on a line', () => {
  it('stands between the points it lies between', () => {
    expect(onLine([0, 1, 2], [0, 10, 0], 0.25)).toBeCloseTo(2.5, 12);
    expect(onLine([0, 1, 2], [0, 10, 0], 1.5)).toBeCloseTo(5, 12);
    expect(onLine([0, 1], [3, 4], 9)).toBe(4);
    expect(onLine([], [], 1)).toBeNull();
  });
  it('has a shape of its own for every kind', () => {
    expect(new Set(Object.values(markPath)).size).toBe(Object.keys(markPath).length);
  });
});
