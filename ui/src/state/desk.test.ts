import { flushSync } from 'svelte';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import type { Conflict, TryRequest, View } from '../api/contract';
import { Problem } from '../api/problem';
import { sampleServer } from '../sample/server';
import { sampleView } from '../sample/view';
import { Desk, newest } from './desk.svelte';
import { keep, recall } from './kept';

const spring = 'builds.kit.front.spring';
const settle = async () => {
  for (let k = 0; k < 10; k++) await Promise.resolve();
  flushSync();
};

async function opened(server = sampleServer()) {
  const desk = new Desk(server, '0042', 'metric');
  await desk.load();
  return { desk, server };
}

beforeEach(() => vi.useRealTimers());

describe('undo', () => {
  it('takes back parts, clicks and heights in the order they were made, and does them again', async () => {
    const { desk } = await opened();
    desk.change({ path: spring, value: 'front-31', label: 'spring' });
    desk.change({ path: 'builds.kit.setup.click.front', value: '5', label: 'click' });
    desk.change({ path: 'builds.kit.front', move: '-4 mm', label: 'height' });
    desk.endGesture();
    expect(desk.undo()).toBe('height');
    expect(desk.undo()).toBe('click');
    expect(desk.edits.map((one) => one.path)).toEqual([spring]);
    expect(desk.redo()).toBe('click');
    expect(desk.edits).toHaveLength(2);
    desk.undo();
    desk.undo();
    expect(desk.undo()).toBe('');
    expect(desk.changed).toBe(false);
  });

  it('does not take what was typed into a list for what moved up into its place', async () => {
    const { desk } = await opened();
    desk.change({ path: 'brief.roads[1].speeds', value: '90 km/h', label: 'speeds' });
    expect(desk.typed('brief.roads[1].speeds')).toBe('90 km/h');
    desk.change({ path: 'brief.roads[0]', value: null, label: 'take out' });
    expect(desk.typed('brief.roads[1].speeds')).toBe(desk.view?.fields['brief.roads[1].speeds']?.typed ?? '');
    desk.change({ path: 'brief.roads[1].speeds', value: '70 km/h', label: 'speeds' });
    expect(desk.typed('brief.roads[1].speeds')).toBe('70 km/h');
    desk.change({ path: 'builds.kit.front.packer', value: '3 mm', label: 'packer' });
    desk.change({ path: 'builds.kit', copyOf: 'lower-old', label: 'copy' });
    expect(desk.typed('builds.kit.front.packer')).toBe('');
  });

  it('counts one pull as one step, and the next pull as another', async () => {
    const { desk } = await opened();
    for (const by of ['-1 mm', '-3.5 mm', '-7 mm']) desk.change({ path: 'builds.kit.front', move: by }, true);
    desk.endGesture();
    desk.change({ path: 'builds.kit.front', move: '2 mm' }, true);
    desk.endGesture();
    expect(desk.edits.map((one) => one.move)).toEqual(['-7 mm', '2 mm']);
    desk.undo();
    expect(desk.edits.map((one) => one.move)).toEqual(['-7 mm']);
  });

  it('counts keystrokes at one place as one step, and several edits of a remedy as one', async () => {
    const { desk } = await opened();
    for (const text of ['4', '47', '47 ', '47 N/mm']) desk.change({ path: 'parts.springs.front-46.rate', value: text });
    expect(desk.edits).toHaveLength(1);
    desk.change([
      { path: spring, value: 'front-31' },
      { path: 'builds.kit.rear.spring', value: 'rear-60' },
    ]);
    expect(desk.edits).toHaveLength(3);
    desk.undo();
    expect(desk.edits).toHaveLength(1);
  });

  it('takes one change out of the middle, and puts it back where it was', async () => {
    const { desk } = await opened();
    desk.change({ path: spring, value: 'front-31', label: 'spring' });
    desk.change({ path: 'builds.kit.setup.click.front', value: '5', label: 'click' });
    desk.change({ path: 'builds.kit.front', move: '-4 mm', label: 'height' });
    const step = desk.changes[1]?.step ?? 0;
    expect(desk.takeBack(step)).toBe('click');
    expect(desk.edits.map((one) => one.label)).toEqual(['spring', 'height']);
    desk.putBack();
    expect(desk.edits.map((one) => one.label)).toEqual(['spring', 'click', 'height']);
  });

  it('says when the rest no longer fits after something was taken back', async () => {
    let broken = false;
    const server = sampleServer({
      attempt: async () =>
        broken
          ? {
              ...sampleView(),
              builds: [],
              faults: [{ kind: 'refuse', line: 0, path: 'builds.new.front', got: 'is not in the job', want: '' }],
            }
          : sampleView(),
    });
    const { desk } = await opened(server);
    desk.change({ path: 'builds.new', copyOf: 'kit', label: 'new build' });
    desk.change({ path: 'builds.new.front', move: '-4 mm', label: 'height' });
    await settle();
    broken = true;
    desk.takeBack(desk.changes[1]?.step ?? 0);
    await settle();
    expect(desk.unfit).toMatch(/is not in the job/);
    broken = false;
    desk.putBack();
    await settle();
    expect(desk.unfit).toBe('');
  });

  it('forgets what was undone once something else is changed', async () => {
    const { desk } = await opened();
    desk.change({ path: spring, value: 'front-31' });
    desk.undo();
    expect(desk.canRedo).toBe(true);
    desk.change({ path: 'builds.kit.rear.spring', value: 'rear-60' });
    expect(desk.canRedo).toBe(false);
  });
});

describe('trying', () => {
  it('has one question on its way at most, and then asks the newest', async () => {
    const asked: TryRequest[] = [];
    const answers: ((view: View) => void)[] = [];
    const server = sampleServer({
      attempt: (request) => {
        asked.push(structuredClone(request));
        return new Promise((done) => answers.push(done));
      },
    });
    const desk = new Desk(server, '0042', 'metric');
    const loading = desk.load();
    await settle();
    for (let k = 1; k <= 9; k++) desk.change({ path: 'builds.kit.front', move: `-${k} mm` }, true);
    await settle();
    expect(asked).toHaveLength(1);
    answers[0]?.(sampleView());
    await settle();
    expect(asked).toHaveLength(2);
    expect(asked[1]?.edits).toEqual([{ path: 'builds.kit.front', move: '-9 mm' }]);
    answers[1]?.(sampleView());
    await loading;
    expect(asked).toHaveLength(2);
    expect(desk.trying).toBe(false);
  });

  it('drops an answer that was overtaken by another press', async () => {
    const answers: ((view: View) => void)[] = [];
    const server = sampleServer({ attempt: () => new Promise((done) => answers.push(done)) });
    const desk = new Desk(server, '0042', 'metric');
    const loading = desk.load();
    await settle();
    answers[0]?.({ ...sampleView(), key: 'first' });
    await loading;
    desk.change({ path: 'builds.kit.setup.click.front', value: '8' });
    await settle();
    desk.change({ path: 'builds.kit.setup.click.front', value: '9' });
    answers[1]?.({ ...sampleView(), key: 'overtaken' });
    await settle();
    expect(desk.view?.key).toBe('first');
    answers[2]?.({ ...sampleView(), key: 'newest' });
    await settle();
    expect(desk.view?.key).toBe('newest');
  });

  it('keeps the last good answer in sight when a change cannot be read', async () => {
    let broken = false;
    const server = sampleServer({
      attempt: async () =>
        broken
          ? {
              ...sampleView(),
              builds: [],
              rows: [],
              faults: [{ line: 3, path: spring, got: 'x', want: 'a spring', kind: 'refuse' as const }],
            }
          : sampleView(),
    });
    const { desk } = await opened(server);
    broken = true;
    desk.change({ path: spring, value: 'x' });
    await settle();
    expect(desk.view?.builds).toHaveLength(4);
    expect(desk.view?.faults[0]?.path).toBe(spring);
  });

  it('says when the program does not answer, keeps what was typed, and goes on when it does', async () => {
    let gone = false;
    const server = sampleServer({
      attempt: async () => {
        if (gone) throw new Problem(0, 'refused');
        return sampleView();
      },
    });
    const { desk } = await opened(server);
    gone = true;
    desk.change({ path: spring, value: 'front-31' });
    await settle();
    expect(desk.trouble).toContain('does not answer');
    expect(desk.edits).toHaveLength(1);
    gone = false;
    await desk.attempt();
    expect(desk.trouble).toBe('');
  });
});

describe('drafts', () => {
  it('survive a reload, with what was undone', async () => {
    const { desk, server } = await opened();
    desk.change({ path: spring, value: 'front-31' });
    desk.change({ path: 'builds.kit.rear.spring', value: 'rear-60' });
    desk.undo();
    const again = new Desk(server, '0042', 'metric');
    await again.load();
    expect(again.edits.map((one) => one.path)).toEqual([spring]);
    expect(again.undone.map((one) => one.path)).toEqual(['builds.kit.rear.spring']);
    expect(again.redo()).toBe('builds.kit.rear.spring');
  });

  it('go to the server a moment later, and leave it when all is undone', async () => {
    vi.useFakeTimers();
    const { desk, server } = await opened();
    desk.change({ path: spring, value: 'front-31' });
    await vi.advanceTimersByTimeAsync(600);
    expect(server.drafts.get('0042')?.edits[0]?.value).toBe('front-31');
    desk.change({ path: spring, value: 'front-46' });
    await desk.save('Ines', 'why');
    await vi.advanceTimersByTimeAsync(600);
    expect(server.drafts.has('0042')).toBe(false);
    expect(recall('draft.0042')).toBeNull();
  });

  it('are taken from where the newest is', () => {
    const draft = (at: string, revision: number) => ({ at, revision, edits: [], undone: [] });
    expect(newest(draft('2026-11-25T10:00:00Z', 1), draft('2026-11-25T10:00:01Z', 2))?.revision).toBe(2);
    expect(newest(draft('2026-11-25T10:00:02Z', 1), draft('2026-11-25T10:00:01Z', 2))?.revision).toBe(1);
    expect(newest(null, null)).toBeNull();
  });

  it('made on an older revision say so, and are saved against that one', async () => {
    keep('draft.0042', {
      revision: 2,
      edits: [{ path: spring, value: 'front-31', step: 1 }],
      undone: [],
      at: '2026-11-25T10:00:00Z',
    });
    const save = vi.fn(async () => {
      throw new Problem(409, 'saved meanwhile', {
        mine: {},
        theirs: { text: 't', revision: 3, who: 'Tam', when: '', why: '' },
        fields: [],
      });
    });
    const { desk } = await opened(sampleServer({ save }));
    expect(desk.overtaken).toContain('revision 2');
    expect(await desk.save('Ines', '')).toBe(false);
    expect(save).toHaveBeenCalledWith('0042', 2, expect.anything());
    expect(desk.conflict?.theirs.who).toBe('Tam');
  });
});

describe('a conflict', () => {
  it('is saved on their version, with mine only where it was chosen', async () => {
    const conflict: Conflict = {
      theirs: { text: 'their text', revision: 5, who: 'Tam', when: '', why: '' },
      fields: [
        { path: 'a', label: 'a', base: '1', mine: '2', theirs: '3', same: false },
        { path: 'b', label: 'b', base: '1', mine: '', theirs: '1', same: false },
        { path: 'c', label: 'c', base: '1', mine: '4', theirs: '5', same: false },
      ],
    };
    const server = sampleServer();
    const save = vi.spyOn(server, 'save');
    const { desk } = await opened(server);
    desk.change({ path: 'a', value: '2' });
    desk.conflict = conflict;
    expect(await desk.resolve(new Set(['a', 'b']), 'Ines', 'both')).toBe(true);
    expect(save).toHaveBeenCalledWith('0042', 5, {
      text: 'their text',
      edits: [
        { path: 'a', value: '2' },
        { path: 'b', value: null },
      ],
      who: 'Ines',
      why: 'both',
    });
    expect(desk.conflict).toBeNull();
    expect(desk.changed).toBe(false);
  });
});

describe('the full answer', () => {
  const rows = (view: View, verdicts: Record<string, string>): View => ({
    ...view,
    rows: Object.entries(verdicts).map(([code, verdict]) => ({
      code,
      label: code,
      sub: '',
      verdict: verdict as View['rows'][number]['verdict'],
      cells: view.builds.map(() => ({ verdict, text: verdict, word: '', state: 'ok', tier: 'static' }) as never),
    })),
  });
  const quick = rows(sampleView(), { blow: 'over', gap: 'close', arch: 'clear' });
  const narrower = (view: View): View => ({
    ...view,
    builds: view.builds.map((one) => ({
      ...one,
      strips: one.strips.map((strip) => ({ ...strip, min: strip.min + 5, max: strip.max - 5 })),
    })),
  });
  const full = {
    ...narrower(rows(sampleView(), { hits: 'over', gap: 'over', blow: 'close', arch: 'clear' })),
    full: true,
  };
  const slow = () => {
    const asked: { request: TryRequest; signal?: AbortSignal; answer: (view: View) => void }[] = [];
    const server = sampleServer({
      attempt: (request, signal) =>
        request.full
          ? new Promise((answer) => asked.push({ request, ...(signal ? { signal } : {}), answer }))
          : Promise.resolve(quick),
    });
    return { asked, server };
  };

  it('is asked for once the hand rests, and leaves every line where it stands', async () => {
    vi.useFakeTimers();
    const { asked, server } = slow();
    const { desk } = await opened(server);
    expect(desk.refining).toBe(true);
    await vi.advanceTimersByTimeAsync(1000);
    expect(asked).toHaveLength(1);
    asked[0]?.answer(full);
    await settle();
    expect(desk.refining).toBe(false);
    expect(desk.view?.full).toBe(true);
    // The strips stand on the scale they stood on.
    const scale = (view?: View | null) => view?.builds.map((one) => [one.strips[0]?.min, one.strips[0]?.max]);
    expect(scale(desk.view)).toEqual(scale(quick));
    // What is new comes behind what is as grave; what was there keeps its order.
    expect(desk.view?.rows.map((row) => row.code)).toEqual(['blow', 'gap', 'hits', 'arch']);
    desk.change({ path: spring, value: 'front-31' });
    await settle();
    // What only the full answer knows keeps its line and shows no figure of the state before.
    expect(desk.view?.full).toBe(false);
    const hits = desk.view?.rows.find((row) => row.code === 'hits');
    expect(hits?.cells.every((cell) => cell.text === '…')).toBe(true);
    expect(desk.stood).toContain('hits');
  });

  it('of an older state is dropped, however late it comes', async () => {
    vi.useFakeTimers();
    const { asked, server } = slow();
    const { desk } = await opened(server);
    await vi.advanceTimersByTimeAsync(1000);
    desk.change({ path: spring, value: 'front-31' });
    expect(asked[0]?.signal?.aborted).toBe(true);
    asked[0]?.answer(full);
    await settle();
    expect(desk.view?.full).toBe(false);
    await vi.advanceTimersByTimeAsync(1000);
    expect(asked).toHaveLength(2);
    expect(asked[1]?.request.edits).toEqual([{ path: spring, value: 'front-31' }]);
    asked[1]?.answer(full);
    await settle();
    expect(desk.view?.full).toBe(true);
  });

  it('that fails leaves the quick one in sight and says so', async () => {
    vi.useFakeTimers();
    const server = sampleServer({
      attempt: (request) => (request.full ? Promise.reject(new Error('no answer')) : Promise.resolve(quick)),
    });
    const { desk } = await opened(server);
    await vi.advanceTimersByTimeAsync(1000);
    expect(desk.refining).toBe(false);
    expect(desk.rough).not.toBe('');
    expect(desk.view?.rows).toHaveLength(3);
  });
});

it('never sends the server what is the page’s own', async () => {
  const { desk, server } = await opened();
  desk.change({ path: spring, value: 'front-31', label: 'front spring' });
  await settle();
  expect(server.tried.at(-1)).toEqual([{ path: spring, value: 'front-31' }]);
});
