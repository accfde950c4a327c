import { describe, expect, it } from 'vitest';
import { stripsOf, sampleView } from '../sample/view';
import { amount, drawn, figuresAt, range, scale, ticks } from './place';

describe('the scale of a strip', () => {
  it('is the same for every build beside it, and holds all of them', () => {
    const { builds } = sampleView();
    const { min, max } = range(builds);
    for (const strip of builds.flatMap((one) => one.strips)) {
      expect(strip.open).toBeGreaterThanOrEqual(min);
      expect(strip.closed).toBeLessThanOrEqual(max);
    }
  });

  it('goes up with bump, and back', () => {
    const s = scale(-97.3, 118.9, 20, 178);
    expect(s.y(31.7)).toBeLessThan(s.y(-8.2));
    for (const travel of [-93.1, -8.2, 31.7, 77.7]) expect(s.travel(s.y(travel))).toBeCloseTo(travel, 9);
    expect(s.y(118.9)).toBeCloseTo(20, 9);
    expect(s.y(-97.3)).toBeCloseTo(198, 9);
  });

  it('has a range even without builds', () => {
    expect(range([])).toEqual({ min: -1, max: 1 });
  });

  it('has round ticks with zero among them', () => {
    expect(ticks(-105, 118, 5)).toEqual([-100, -50, 0, 50, 100]);
    expect(ticks(-4.1, 4.6, 5)).toEqual([-4, -2, 0, 2, 4]);
    expect(ticks(3, 3)).toEqual([]);
  });
});

describe('the two figures beside a bar', () => {
  it('never stand closer than a finger needs, nor off the strip', () => {
    const top = 20;
    const tall = 178;
    for (const rest of [-80, -20, 6.5, 38, 45, 60, 97]) {
      const strip = stripsOf(
        'x',
        { open: -83, loose: null, touch: 46, solid: 85, closed: 89, rest: [rest, rest], band: 4, peak: 50, spread: 5 },
        { open: -83, loose: null, touch: 46, solid: 85, closed: 89, rest: [rest, rest], band: 4, peak: 50, spread: 5 },
      )[0];
      const one = strip && drawn(strip);
      if (!one) throw new Error('no strip');
      const [bump, droop] = figuresAt(one, scale(-105, 118, top, tall), top, top + tall);
      expect(droop - bump, `rest ${rest}`).toBeGreaterThanOrEqual(44 - 1e-9);
      expect(bump, `rest ${rest}`).toBeGreaterThan(top);
      expect(droop, `rest ${rest}`).toBeLessThan(top + tall);
    }
  });
});

describe('a strip of which little is known', () => {
  it('is drawn from what is there, and not at all without a rest', () => {
    const strip = sampleView().builds[3]?.strips[2];
    if (!strip) throw new Error('no strip');
    expect(drawn({ ...strip, rest: null })).toBeNull();
    const bare = drawn({ ...strip, open: null, closed: null, solid: null, touch: null, restLow: null, restHigh: null });
    expect(bare).toEqual({
      open: strip.min,
      rest: strip.rest,
      restLow: strip.rest,
      restHigh: strip.rest,
      touch: strip.max,
      solid: strip.max,
      closed: strip.max,
      endless: { bump: true, droop: true },
    });
  });
});

describe('an amount of a pull', () => {
  it('is written as it would be typed', () => {
    expect(amount(-12.5, 'mm')).toBe('-12.5 mm');
    expect(amount(3, 'mm')).toBe('3 mm');
    expect(amount(-0.04, 'in')).toBe('-0.04 in');
    expect(amount(-0.001, 'mm')).toBe('0 mm');
    expect(amount(20, 'mm')).toBe('20 mm');
  });
});
