import { expect, it } from 'vitest';
import { rateEdits, rateOf } from './rate';

it('makes a spring of its own of another rate, and changes that one the next time', () => {
  const path = 'builds.kit.front.spring';
  expect(rateEdits(path, 'front-46', 52, 'N/mm', '', ['parts.springs.front-46.rate'])).toEqual([
    { path: 'parts.springs.kit-front-1', value: '{use: front-46, rate: 52 N/mm}' },
    { path, value: 'kit-front-1' },
  ]);
  expect(rateEdits(path, 'kit-front-1', 54, 'N/mm', 'front-46', [])).toEqual([
    { path: 'parts.springs.kit-front-1.rate', value: '54 N/mm' },
  ]);
  expect(rateEdits(path, 'front-46', 52, 'N/mm', '', ['parts.springs.kit-front-1.rate'])[1]?.value).toBe('kit-front-2');
});

it('reads a rate as it was typed, else as it is shown', () => {
  expect(rateOf('52 N/mm', '46.0 N/mm')).toEqual({ number: 52, unit: 'N/mm' });
  expect(rateOf('maker 46 N/mm ± 4 %', '46.0 N/mm')).toEqual({ number: 46, unit: 'N/mm' });
  expect(rateOf('', '263 lbf/in')).toEqual({ number: 263, unit: 'lbf/in' });
  expect(rateOf('', '')).toBeNull();
});
