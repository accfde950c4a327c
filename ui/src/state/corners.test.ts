import { describe, expect, it } from 'vitest';
import type { CornerRequest, Corners } from '../api/contract';
import { Problem } from '../api/problem';
import { sampleServer } from '../sample/server';
import { Cornering } from './corners.svelte';

const request = (most: string): CornerRequest => ({
  text: '',
  edits: [],
  units: 'metric',
  direction: 'left',
  driving: 'cornering',
  most,
});
const answer = (key: string, more: Partial<Corners> = {}) =>
  ({ key, builds: [{}], faults: [], ...more }) as unknown as Corners;

describe('questions about corners', () => {
  it('go one at a time, and of those that wait only the newest', async () => {
    const asked: string[] = [];
    const waiting: (() => void)[] = [];
    const c = new Cornering(
      sampleServer({
        corner: (one) => {
          asked.push(one.most ?? '');
          return new Promise((done) => waiting.push(() => done(answer(one.most ?? ''))));
        },
      }),
    );
    const all = c.ask(request('1'));
    void c.ask(request('2'));
    void c.ask(request('3'));
    expect(asked).toEqual(['1']);
    waiting[0]?.();
    await new Promise((on) => setTimeout(on));
    expect(asked).toEqual(['1', '3']);
    expect(c.asking).toBe(true);
    waiting[1]?.();
    await all;
    expect(c.answer?.key).toBe('3');
    expect(c.asking).toBe(false);
  });

  it('leave the last answer in sight when the server is away or the job cannot be read', async () => {
    let turn = 0;
    const c = new Cornering(
      sampleServer({
        corner: async () => {
          turn++;
          if (turn === 2) throw new Problem(0, 'no answer');
          if (turn === 3)
            return answer('bad', {
              builds: [],
              faults: [{ line: 1, path: '', got: '', want: '', kind: 'refuse' }],
            } as Partial<Corners>);
          return answer('good');
        },
      }),
    );
    await c.ask(request('1'));
    await c.ask(request('1'));
    expect(c.trouble).toContain('does not answer');
    expect(c.answer?.key).toBe('good');
    await c.ask(request('1'));
    expect(c.trouble).toBe('');
    expect(c.answer?.key).toBe('good');
  });

  it('open a working, go into its terms and back', async () => {
    const seen: string[] = [];
    const c = new Cornering(
      sampleServer({
        corner: async () => answer('k'),
        working: async (key, id) => {
          seen.push(`${key} ${id}`);
          return { id, title: id } as never;
        },
      }),
    );
    await c.ask(request('1'));
    await c.explain('figures', 'roll', 'metric');
    await c.into('roll!0');
    await c.back();
    expect(seen).toEqual(['k roll', 'k roll!0', 'k roll']);
    expect(c.working?.title).toBe('roll');
    await c.explain('figures', 'roll', 'metric');
    expect(c.open).toBeNull();
  });
});
