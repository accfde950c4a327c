import { expect, it } from 'vitest';
import { newest } from './newest';

it('lets only the newest question answer, in whatever order answers come', () => {
  const start = newest();
  const first = start();
  expect(first()).toBe(true);
  const second = start();
  expect(first()).toBe(false);
  expect(second()).toBe(true);
  expect(newest()()()).toBe(true);
  expect(second()).toBe(true);
});
