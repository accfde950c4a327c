import { flushSync } from 'svelte';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { Problem } from '../api/problem';
import { sampleScalesServer } from '../sample/scales';
import { sizeOf, widthOf } from '../draw/turn';
import { Bench, bodyOf, carried, hasReading, newName, nothingTyped, typedOf, unitsOf } from './scales.svelte';
import { before, kindOf, next, press, withUnit } from './scalespad';
import type { KeepRound, ScalesServer } from './scalesshape';

const loads = ['431.8', '464.7', '327.3', '321.2'];
const heights = ['350.1', '345.0', '357.9', '355.1'];
const settle = async () => {
  for (let k = 0; k < 30; k++) await Promise.resolve();
  flushSync();
};
function fill(bench: Bench) {
  loads.forEach((one, k) => bench.type({ row: 'loads', corner: k }, one));
  heights.forEach((one, k) => bench.type({ row: 'heights', corner: k }, one));
}

beforeEach(() => vi.useFakeTimers());
afterEach(() => vi.useRealTimers());

describe('the number pad', () => {
  it('walks front left, front right, rear left, rear right, then the heights, and stops', () => {
    const walked: string[] = [];
    let at = { row: 'loads', corner: 0 };
    for (let k = 0; k < 20; k++) {
      walked.push(`${at.row}.${at.corner}`);
      const on = next(at);
      if (!on) break;
      expect(before(on)).toEqual(at);
      at = on;
    }
    expect(walked).toEqual([
      'loads.0',
      'loads.1',
      'loads.2',
      'loads.3',
      'heights.0',
      'heights.1',
      'heights.2',
      'heights.3',
    ]);
    expect(before({ row: 'loads', corner: 0 })).toBeNull();
    expect(next({ row: 'again.1.loads', corner: 3 })).toEqual({ row: 'again.1.heights', corner: 0 });
    expect(next({ row: 'turned', corner: 3 })).toBeNull();
  });

  it('types figure by figure, one point, and takes back', () => {
    const typed = [...'431.8'].reduce((text, key) => press(text, key), '');
    expect(typed).toBe('431.8');
    expect(press('431.8', '.')).toBe('431.8');
    expect(press('431.8', 'back')).toBe('431.');
    expect(press('431.8', 'clear')).toBe('');
  });

  it('puts an eighth behind the whole turns, changes it, and takes it back in one stroke', () => {
    expect(press('2', '1/8')).toBe('2 1/8');
    expect(press('2 1/8', '3/4')).toBe('2 3/4');
    expect(press('', '1/2')).toBe('1/2');
    expect(press('−', '1/2')).toBe('−1/2');
    expect(press('2 3/4', 'back')).toBe('2');
    expect(press('2 3/4', 'sign')).toBe('−2 3/4');
    expect(press('−2 3/4', 'sign')).toBe('2 3/4');
    expect(press('-2', 'sign')).toBe('2');
  });

  it('adds the unit beside the field to a bare number only', () => {
    expect(withUnit('431.8', 'kg')).toBe('431.8 kg');
    expect(withUnit(' 13 7/8 ', 'in')).toBe('13 7/8 in');
    expect(withUnit('952 lb', 'kg')).toBe('952 lb');
    expect(withUnit('13.5"', 'mm')).toBe('13.5"');
    expect(withUnit('49.8%', '%')).toBe('49.8%');
    expect(withUnit('', 'kg')).toBe('');
    expect(withUnit('−0.4', 'kg')).toBe('−0.4 kg');
  });

  it('knows what is typed where', () => {
    expect(
      ['loads', 'heights', 'again.0.loads', 'pressed.heights', 'turned', 'pressures', 'padErrors', 'padLevels'].map(
        kindOf,
      ),
    ).toEqual(['load', 'height', 'load', 'height', 'turn', 'pressure', 'load', 'height']);
  });
});

describe('a round', () => {
  it('is sent with its units and without what was not read; turns stay as typed', () => {
    const typed = {
      ...nothingTyped(),
      loads,
      heights: ['350.1', '', '357.9 mm', '355.1'],
      turned: ['−1/4', '', '', '2 1/8'],
    };
    typed.again = [{ loads: ['', '', '', ''], heights: ['', '', '', ''] }];
    typed.lifted = { loads, heights };
    typed.total = '1545';
    const body = bodyOf(typed, unitsOf('metric'));
    expect(body.loads).toEqual(['431.8 kg', '464.7 kg', '327.3 kg', '321.2 kg']);
    expect(body.heights).toEqual(['350.1 mm', '', '357.9 mm', '355.1 mm']);
    expect(body.turned).toEqual(['−1/4', '', '', '2 1/8']);
    expect(body.total).toBe('1545 kg');
    expect(body.lifted?.loads[0]).toBe('431.8 kg');
    for (const key of ['again', 'pressed', 'padLevels', 'barsOff', 'note']) expect(body).not.toHaveProperty(key);
    expect(typedOf(body).heights).toEqual(body.heights);
  });

  it('needs a reading: what is carried over is none', () => {
    const typed = {
      ...nothingTyped(),
      loads,
      pressures: ['2.3', '2.3', '2.1', '2.1'],
      barsOff: 'yes' as const,
      settled: 'yes' as const,
    };
    expect(hasReading(typed)).toBe(true);
    const on = carried(typed);
    expect(hasReading(on)).toBe(false);
    expect(on.pressures).toEqual(typed.pressures);
    expect(on.barsOff).toBe('yes');
    expect(on.settled, 'a car that was worked on has to be rolled again').toBe('');
  });

  it('has a name that no other has', () => {
    const names = new Set(Array.from({ length: 500 }, newName));
    expect(names.size).toBe(500);
    expect(newName()).toMatch(/^[0-9a-f]{32}$/);
  });
});

describe('the bench', () => {
  it('keeps every letter on this machine and has it after a reload', () => {
    const bench = new Bench(sampleScalesServer(), '0042', 'metric');
    bench.type({ row: 'loads', corner: 2 }, ' 327.3 ');
    bench.wish('cross', '49.8');
    const later = new Bench(sampleScalesServer(), '0042', 'metric');
    expect(later.text({ row: 'loads', corner: 2 })).toBe(' 327.3 ');
    expect(later.settings.wishes.cross).toBe('49.8');
    expect(new Bench(sampleScalesServer(), '0043', 'metric').text({ row: 'loads', corner: 2 })).toBe('');
  });

  it('asks once when the fingers rest, and keeps only the newest question while one is on its way', async () => {
    const server = sampleScalesServer();
    const asked: (string | undefined)[] = [];
    let answer: () => void = () => undefined;
    const slow: ScalesServer = {
      ...server,
      scales: async (id, settings, draft) => {
        asked.push(draft?.loads[0]);
        await new Promise<void>((done) => (answer = done));
        return server.scales(id, settings, draft);
      },
    };
    const bench = new Bench(slow, '0042', 'metric');
    for (const text of ['4', '43', '431', '431.8']) bench.type({ row: 'loads', corner: 0 }, text);
    expect(asked).toEqual([]);
    await vi.advanceTimersByTimeAsync(300);
    expect(asked).toEqual(['431.8 kg']);
    for (const text of ['431.9', '432.0']) {
      bench.type({ row: 'loads', corner: 0 }, text);
      await vi.advanceTimersByTimeAsync(300);
    }
    expect(asked).toHaveLength(1);
    answer();
    await settle();
    expect(asked).toEqual(['431.8 kg', '432.0 kg']);
    answer();
    await settle();
    expect(bench.asking).toBe(false);
    expect(bench.view?.build).toBe('kit');
  });

  it('saves while the server is away, survives a reload, sends in order with the same names, and doubles nothing', async () => {
    const server = sampleScalesServer();
    let away = true;
    const sent: string[] = [];
    const flaky: ScalesServer = {
      ...server,
      scales: async (...args) => {
        if (away) throw new Problem(0, 'no answer');
        return server.scales(...args);
      },
      keepRound: async (id, round) => {
        sent.push(round.id);
        if (away) throw new Problem(0, 'no answer');
        const got = await server.keepRound(id, round);
        // The first answer is lost on its way back: the round is sent once more.
        if (sent.filter((one) => one === round.id).length < 3) throw new Problem(0, 'no answer');
        return got;
      },
    };
    const bench = new Bench(flaky, '0042', 'metric');
    fill(bench);
    await bench.save('Tam');
    fill(bench);
    bench.type({ row: 'loads', corner: 0 }, '433.0');
    await bench.save('Tam');
    expect(bench.waiting).toHaveLength(2);
    expect(bench.away).toBe(true);
    expect(bench.trouble).toMatch(/does not answer/);
    expect(bench.text({ row: 'loads', corner: 0 }), 'the fields are free for the next round').toBe('');

    const later = new Bench(flaky, '0042', 'metric');
    expect(later.waiting.map((one) => one.round.round.loads[0])).toEqual(['431.8 kg', '433.0 kg']);
    away = false;
    const stop = later.start();
    for (let k = 0; k < 5; k++) await vi.advanceTimersByTimeAsync(3100);
    stop();
    expect(later.waiting).toHaveLength(0);
    expect(server.kept).toHaveLength(2);
    expect(server.kept[0]).toBe(sent[0]);
    expect(later.view?.rounds).toHaveLength(2);
    expect(later.trouble).toBe('');
    expect(new Bench(flaky, '0042', 'metric').waiting).toHaveLength(0);
  });

  it('shows no turns that may have been made already, and counts none that nobody was told of', async () => {
    const server = sampleScalesServer();
    let away = false;
    const sent: KeepRound[] = [];
    const flaky: ScalesServer = {
      ...server,
      scales: async (...args) => {
        if (away) throw new Problem(0, 'no answer');
        return server.scales(...args);
      },
      keepRound: async (id, round) => {
        if (away) throw new Problem(0, 'no answer');
        sent.push(round);
        return server.keepRound(id, round);
      },
    };
    const bench = new Bench(flaky, '0042', 'metric');
    await bench.ask();
    fill(bench);
    await bench.save('Tam');
    expect(bench.stale).toBe(false);
    // The turns after the second round are on the screen when the program goes away: they are those of the second round.
    fill(bench);
    await bench.ask();
    away = true;
    await bench.save('Tam');
    expect(bench.stale).toBe(false);
    // Of the third nothing is on the screen but what was turned before it.
    fill(bench);
    await vi.advanceTimersByTimeAsync(300);
    expect(bench.stale).toBe(true);
    await bench.save('Tam');
    expect(bench.stale).toBe(true);
    expect(bench.hint(0)).toBe('0');
    fill(bench);
    bench.type({ row: 'turned', corner: 3 }, '1/4');
    await bench.save('Tam');
    away = false;
    await bench.send();
    expect(bench.stale).toBe(false);
    expect(sent.map((one) => one.round.turned)).toEqual([
      ['', '', '', ''],
      ['', '', '', ''],
      ['', '', '', ''],
      ['0', '0', '0', '1/4'],
    ]);
    expect(sent.map((one) => one.seen)).toEqual(['', sent[0]?.id, sent[1]?.id, sent[2]?.id]);
  });

  it('keeps a round that was refused, says why, and puts it back into empty fields', async () => {
    const server: ScalesServer = {
      ...sampleScalesServer(),
      keepRound: async () => {
        throw new Problem(422, 'loads.0: “43l.8 kg” is no load');
      },
    };
    const bench = new Bench(server, '0042', 'metric');
    fill(bench);
    bench.type({ row: 'loads', corner: 0 }, '43l.8');
    await bench.save('Tam');
    expect(bench.refusal).toMatch(/is no load/);
    expect(bench.text({ row: 'loads', corner: 0 })).toBe('43l.8');
    expect(bench.waiting).toHaveLength(0);
  });

  it('does not lose a refused round when the next is being typed', async () => {
    let refuse: (error: unknown) => void = () => undefined;
    const server: ScalesServer = {
      ...sampleScalesServer(),
      keepRound: () => new Promise((_, no) => (refuse = no)),
    };
    const bench = new Bench(server, '0042', 'metric');
    fill(bench);
    const saved = bench.save('Tam');
    bench.type({ row: 'loads', corner: 0 }, '500');
    refuse(new Problem(404, 'the job is gone'));
    await saved;
    expect(bench.text({ row: 'loads', corner: 0 })).toBe('500');
    expect(bench.waiting.map((one) => one.state)).toEqual(['refused']);
    expect(new Bench(server, '0042', 'metric').waiting[0]?.said).toBe('the job is gone');
    bench.takeBack(bench.waiting[0]?.round.id ?? '');
    expect(bench.text({ row: 'loads', corner: 0 })).toBe('431.8');
    expect(new Bench(server, '0042', 'metric').spare?.loads[0], 'what stood there is not lost').toBe('500');
    bench.putBack();
    expect(bench.text({ row: 'loads', corner: 0 })).toBe('500');
    expect(bench.spare?.loads[0]).toBe('431.8');
  });

  it('undoes the save that was just made: the round is withdrawn and its figures are back', async () => {
    const server = sampleScalesServer();
    const bench = new Bench(server, '0042', 'metric');
    fill(bench);
    await bench.save('Tam');
    expect(server.kept).toHaveLength(1);
    expect(await bench.undo('Tam')).toBe(true);
    expect(bench.view?.rounds[0]?.withdrawn?.why).toMatch(/taken back/);
    expect(bench.row('heights')).toEqual(heights);
    expect(bench.last).toBeNull();
    expect(await bench.undo('Tam')).toBe(false);
  });

  it('undoes a round that still waits without asking anybody', async () => {
    const server = {
      ...sampleScalesServer(),
      keepRound: async () => {
        throw new Problem(0, 'no answer');
      },
    };
    const bench = new Bench(server, '0042', 'metric');
    fill(bench);
    await bench.save('Tam');
    expect(await bench.undo('Tam')).toBe(true);
    expect(bench.waiting).toHaveLength(0);
    expect(bench.row('loads')).toEqual(loads);
  });
});

describe('a build that is gone from the job', () => {
  it('is let go, and the server’s own choice is shown', async () => {
    const server = sampleScalesServer();
    const bench = new Bench(
      {
        ...server,
        scales: async (id, settings, draft) => {
          if (settings.build === 'gone') throw new Problem(422, 'the job has no build "gone"');
          return server.scales(id, settings, draft);
        },
      },
      '0042',
      'metric',
    );
    bench.want({ build: 'gone' });
    await bench.ask();
    expect(bench.view?.build).toBe('kit');
    expect(bench.settings.build).toBe('');
    expect(bench.trouble).toBe('');
  });
});

describe('a browser that keeps nothing', () => {
  it('says so while a round waits, and still sends it', async () => {
    vi.stubGlobal('localStorage', {
      length: 0,
      key: () => null,
      getItem: () => null,
      removeItem: () => undefined,
      clear: () => undefined,
      setItem: () => {
        throw new DOMException('full', 'QuotaExceededError');
      },
    });
    const server = sampleScalesServer();
    const bench = new Bench(server, '0042', 'metric');
    fill(bench);
    await bench.save('Tam');
    expect(bench.unkept).toBe(true);
    expect(server.kept).toHaveLength(1);
    vi.unstubAllGlobals();
  });
});

describe('the figures over the drawing', () => {
  it('are as large as fits, never under the least', () => {
    expect(sizeOf(['2 1/8', '1/4'], widthOf('2 1/8') * 100, 26, 106)).toBe(100);
    expect(sizeOf(['1/4'], 10_000, 26, 106)).toBe(106);
    expect(sizeOf(['12 7/8'], 10, 26, 106)).toBe(26);
    expect(sizeOf([], 10, 26, 106)).toBe(106);
  });
});
