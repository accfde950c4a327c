import { afterEach, describe, expect, it, vi } from 'vitest';
import { sampleServer } from '../sample/server';
import { Shell } from './shell.svelte';

afterEach(() => document.body.replaceChildren());

describe('going to the field of a value', () => {
  it('shows the first field under a place, on the face that has the place', async () => {
    document.body.innerHTML = '<input data-path="parts.strut.rate" /><input data-path="parts.strut.length" />';
    const shell = new Shell(sampleServer());
    shell.toField('0042', 'parts.strut');
    await vi.waitFor(() => expect(document.activeElement?.getAttribute('data-path')).toBe('parts.strut.rate'), 50_000);
    expect(shell.route).toEqual({ at: 'job', id: '0042', face: 'parts' });
  });
  it('says so where the page has no field, and shows no path', async () => {
    const shell = new Shell(sampleServer());
    shell.toField('0042', 'car.front.hardpoints');
    await vi.waitFor(() => expect(shell.said).not.toBe(''), 50_000);
    expect(shell.said).not.toContain('hardpoints');
  });
});
