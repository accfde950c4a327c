import { expect, it } from 'vitest';
import { read, tabs, write, type Route } from './route';

it('reads back every address it writes', () => {
  const routes: Route[] = [
    { at: 'jobs' },
    { at: 'new' },
    { at: 'workshop' },
    { at: 'components' },
    { at: 'job', id: '0042', face: 'road' },
    { at: 'job', id: 'a/b c%', face: 'builds' },
  ];
  for (const route of routes) expect(read(write(route))).toEqual(route);
});

it('opens a job on its builds, and says when there is nothing', () => {
  expect(read('/jobs/7')).toEqual({ at: 'job', id: '7', face: 'builds' });
  expect(read('/')).toEqual({ at: 'jobs' });
  expect(read('/jobs/7/nonsense').at).toBe('nowhere');
  expect(read('/%E0%A4%A').at).toBe('nowhere');
});

it('has a file for every page of a job', () => {
  const files = Object.keys(import.meta.glob('../pages/*.svelte'));
  for (const tab of tabs) expect(files).toContain(`../pages/${tab.file}.svelte`);
});
