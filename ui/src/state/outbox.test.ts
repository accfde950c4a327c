import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Server } from '../api/contract';
import { Problem } from '../api/problem';
import { sampleServer, sampleSession } from '../sample/server';
import { Desk } from './desk.svelte';
import { belongTo, keepMine } from './kept';
import { Outbox } from './outbox.svelte';

const ines = { ...sampleSession, person: { id: 'Ines', name: 'Ines', role: 'specialist' as const } };
const held = (id: string, job = '0042') => ({
  id,
  job,
  called: 'Marl',
  revision: 3,
  text: 'trunnion: job/1\n',
  edits: [],
  who: 'Ines',
  why: id,
});
const round = (id: string, job: string, at: string) =>
  keepMine(`scales.waiting.${job}.${id}`, { round: { id, build: 'kit' }, at, state: 'waiting', said: '' });

beforeEach(() => {
  localStorage.clear();
  belongTo('Ines');
});
afterEach(() => {
  belongTo('');
  vi.useRealTimers();
});

describe('what waits to be sent', () => {
  it('goes in the order in which it was saved, rounds of open scales among it, each save on what the one before became', async () => {
    const sent: string[] = [];
    const server = sampleServer();
    const noted: Server = {
      ...server,
      save: async (job, revision, request) => {
        sent.push(`${request.id} on ${revision}`);
        return server.save(job, revision, request);
      },
      keepRound: async (_job, one) => {
        sent.push(one.id);
        return {} as never;
      },
    };
    const box = new Outbox(noted, async () => ines);
    round('first', '0042', new Date(Date.now() - 5000).toISOString());
    box.hold(held('a'));
    box.hold(held('b'));
    round('elsewhere', '0039', new Date(Date.now() + 5000).toISOString());
    box.load();
    box.atBench('0042', async () => {
      sent.push('first');
      localStorage.removeItem('trunnion.of.Ines.scales.waiting.0042.first');
      box.look();
    });
    expect(box.many).toBe(4);
    await box.send();
    expect(sent).toEqual(['first', 'a on 3', 'b on 4', 'elsewhere']);
    expect(box.many).toBe(0);
  });

  it('stays while somebody else is signed in, and is there for whoever saved it', async () => {
    const save = vi.fn();
    const box = new Outbox(sampleServer({ save }), async () => ({
      ...ines,
      person: { id: 'Tam', name: 'Tam', role: 'bay' as const },
    }));
    box.hold(held('a'));
    await box.send();
    expect(save).not.toHaveBeenCalled();
    belongTo('Tam');
    box.load();
    expect(box.many).toBe(0);
    belongTo('Ines');
    box.load();
    expect(box.many).toBe(1);
  });

  it('waits behind a conflict of the same job, and not behind one of another', async () => {
    const sent: string[] = [];
    const server = sampleServer();
    const box = new Outbox(
      {
        ...server,
        save: async (job, revision, request) => {
          sent.push(request.id ?? '');
          if (request.id === 'a')
            throw new Problem(409, 'Tam saved', { fields: [], theirs: { revision: 4, text: '', who: 'Tam' } });
          return server.save(job, revision, request);
        },
      },
      async () => ines,
    );
    for (const one of [held('a'), held('b'), held('c', '0039')]) box.hold(one);
    await box.send();
    expect(sent).toEqual(['a', 'c']);
    expect(box.saves.map((one) => `${one.id} ${one.state}`)).toEqual(['a conflict', 'b waiting']);
  });
});

describe('a draft', () => {
  it('does not go to the server under the name of whoever signed in meanwhile', async () => {
    vi.useFakeTimers();
    const server = sampleServer();
    const desk = new Desk(server, '0042', 'metric');
    await desk.load();
    desk.change({ path: 'job.number', value: '77' });
    belongTo('Tam');
    await vi.advanceTimersByTimeAsync(600);
    expect(server.drafts.size).toBe(0);
    belongTo('Ines');
    const again = new Desk(server, '0042', 'metric');
    await again.load();
    expect(again.edits).toHaveLength(1);
  });
});
