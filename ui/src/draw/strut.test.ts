import { describe, expect, it } from 'vitest';
import { along, arrow, coils, fit, flat, onPaper, wheelBox } from './strut';

describe('the picture of a strut', () => {
  it('has the outside of the left wheel on the right from in front, and the front of the car on the left from beside', () => {
    expect(flat([100, 700, 300], 'front')).toEqual([700, 300]);
    expect(flat([100, 700, 300], 'side')).toEqual([-100, 300]);
  });
  it('is to one scale, up is up, and all of it inside its margins', () => {
    const points: [number, number][] = [
      [300, 0],
      [850, 820],
    ];
    const f = fit(points, 500, 500, { x: 40, top: 20, bottom: 60 });
    const [a, b] = points.map((p) => onPaper(p, f));
    expect(a?.[1]).toBeCloseTo(440);
    expect(b?.[1]).toBeCloseTo(20);
    expect((b?.[0] ?? 0) - (a?.[0] ?? 0)).toBeCloseTo(550 * f.per);
    expect(a?.[0]).toBeGreaterThanOrEqual(40);
  });
  it('puts guide and piston on the axis by their distance from the top', () => {
    expect(along([0, 0, 800], [0, 300, 400], 500, 250)).toEqual([0, 150, 600]);
  });
  it('draws a wheel by its plane', () => {
    const box = wheelBox([750, 310], [760, 0], 310, 200);
    expect(Math.hypot((box[0]?.[0] ?? 0) - (box[3]?.[0] ?? 0), (box[0]?.[1] ?? 0) - (box[3]?.[1] ?? 0))).toBeCloseTo(
      620,
    );
    expect(Math.hypot((box[0]?.[0] ?? 0) - (box[1]?.[0] ?? 0), (box[0]?.[1] ?? 0) - (box[1]?.[1] ?? 0))).toBeCloseTo(
      200,
    );
  });
  it('has arrows as long as their force, and a dot for what points into the paper', () => {
    const a = arrow([100, 100], [3000, 4000], 0.01);
    expect(a.head).toEqual([130, 60]);
    expect(arrow([100, 100], [0, 4000], 0.01, true).tail).toEqual([100, 140]);
    expect(arrow([0, 0], [100, 0], 0.01).dot).toBe(true);
  });
  it('winds a spring between its seats', () => {
    expect(coils([0, 0], [0, 60], 20, 3)).toMatch(/^M-10.0 0.0L10.0 10.0/);
  });
});
