import { fireEvent, render, screen } from '@testing-library/svelte';
import { expect, it, vi } from 'vitest';
import { Problem } from '../api/problem';
import { sampleServer } from '../sample/server';
import SampleJob from './SampleJob.svelte';

it('asks a linkage question that failed again when it is told to try again', async () => {
  const struts = vi.fn(async () => Promise.reject(new Problem(500, 'the struts failed')));
  const linkage = vi.fn(async () => Promise.reject(new Problem(500, 'the linkage failed')));
  render(SampleJob, { props: { server: sampleServer({ struts, linkage }), face: 'struts' } });
  const again = await screen.findByRole('button', { name: 'Try again' });
  await vi.waitFor(() => expect(linkage).toHaveBeenCalledTimes(1), 50_000);
  await fireEvent.click(again);
  await vi.waitFor(() => expect(linkage).toHaveBeenCalledTimes(2), 50_000);
  expect(struts).toHaveBeenCalledTimes(2);
});
