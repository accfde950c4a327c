import { expect, it } from 'vitest';
import { clamp, pitchOf } from './side';

it('turns the car nose up when its nose is up: clockwise, as it looks left', () => {
  expect(pitchOf(14, 3, 0.5, 430)).toBeGreaterThan(0);
  expect(pitchOf(-14, 3, 0.5, 430)).toBeLessThan(0);
  expect(pitchOf(7, 7, 0.5, 430)).toBe(0);
  // A whole base of rise over a base is 45 degrees.
  expect(pitchOf(430, 0, 1, 430)).toBeCloseTo(45, 9);
});

it('keeps a value between two ends', () => {
  expect([-3, 0.4, 9].map((v) => clamp(v, 0, 1))).toEqual([0, 0.4, 1]);
});
