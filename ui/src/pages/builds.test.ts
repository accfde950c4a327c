import { fireEvent, render, screen, within } from '@testing-library/svelte';
import { describe, expect, it } from 'vitest';
import { sampleServer } from '../sample/server';
import { sampleView } from '../sample/view';
import SampleJob from './SampleJob.svelte';

async function show(change: Parameters<typeof sampleServer>[0] = {}, face = 'builds') {
  const server = sampleServer(change);
  const shown = render(SampleJob, { props: { server, face } });
  await screen.findAllByRole('heading', { level: face === 'builds' ? 2 : 1 });
  return { server, ...shown };
}

describe('builds side by side', () => {
  it('shows the worst first and folds away what is clear everywhere', async () => {
    await show();
    await screen.findByText('Findings, worst first');
    const rows = document.querySelectorAll('.finding');
    expect(rows[0]?.textContent).toContain('in it by 11 ± 6 mm');
    expect(screen.queryByText('Rebound travel left')).toBeNull();
    await fireEvent.click(screen.getByRole('button', { name: /Clear in every build: 1/ }));
    expect(screen.getByText('Rebound travel left')).toBeTruthy();
  });

  it('opens a working right under its row, and closes it again', async () => {
    await show();
    const figure = await screen.findByRole('button', {
      name: /Bump travel to the stop, Lower springs, old dampers: in it by 11/,
    });
    await fireEvent.click(figure);
    const working = await screen.findByRole('region', { name: /^Working/ });
    expect(await within(working).findByText('s = w_touch − w_rest')).toBeTruthy();
    expect(figure.closest('.line')?.nextElementSibling?.contains(working)).toBe(true);
    await fireEvent.click(within(working).getByRole('button', { name: 'Close the working' }));
    expect(screen.queryByRole('region', { name: /^Working/ })).toBeNull();
  });

  it('changes a part and takes it back', async () => {
    const { server } = await show();
    await fireEvent.click(await screen.findByRole('button', { name: /▸ Parts and settings/ }));
    const spring = screen.getByRole<HTMLSelectElement>('combobox', {
      name: 'front spring, Adjustable kit, inverted front struts',
    });
    await fireEvent.change(spring, { target: { value: 'front-31' } });
    expect(server.tried.at(-1)).toEqual([{ path: 'builds.kit.front.spring', value: 'front-31' }]);
    await fireEvent.click(screen.getByRole('button', { name: 'undo' }));
    expect(server.tried.at(-1)).toEqual([]);
  });

  it('turns a click by one, and stops at its ends', async () => {
    const { server } = await show();
    await fireEvent.click(await screen.findByRole('button', { name: /▸ Parts and settings/ }));
    await fireEvent.click(screen.getByRole('button', { name: /front click, .*one click softer/ }));
    expect(server.tried.at(-1)).toEqual([{ path: 'builds.kit.setup.click.front', value: '8' }]);
  });

  it('counts every press at once, however late the answer comes', async () => {
    const { server } = await show();
    await fireEvent.click(await screen.findByRole('button', { name: /▸ Parts and settings/ }));
    const softer = screen.getByRole('button', { name: /front click, .*one click softer/ });
    for (let k = 0; k < 4; k++) await fireEvent.click(softer);
    expect(server.tried.at(-1)).toEqual([{ path: 'builds.kit.setup.click.front', value: '11' }]);
    expect(screen.getByRole('button', { name: 'Take back: front click, Adjustable kit, inverted front struts' }));
  });

  it('lowers the car by the keyboard on the strip', async () => {
    const { server } = await show();
    const line = (await screen.findAllByRole('slider', { name: /Static line, front left/ }))[0];
    if (!line) throw new Error('no line to pull');
    await fireEvent.keyDown(line, { key: 'ArrowUp' });
    expect(server.tried.at(-1)).toEqual([{ path: 'builds.lower-old.front', move: '-1 mm' }]);
    await fireEvent.keyDown(line, { key: 'PageDown' });
    // Shortly after each other they are one change, which a press takes back.
    expect(server.tried.at(-1)).toEqual([{ path: 'builds.lower-old.front', move: '4 mm' }]);
  });

  it('begins a build from another, or from a preset of the workshop', async () => {
    const { server } = await show();
    for (const [from, want] of [
      ['build kit', { copyOf: 'kit' }],
      ['preset marl-town', { preset: 'marl-town' }],
    ] as const) {
      await fireEvent.click(await screen.findByRole('button', { name: 'Add a build' }));
      await fireEvent.input(screen.getByLabelText('Name'), { target: { value: 'Käthe’s town' } });
      await screen.findByRole('option', { name: /Town, on the kit/, hidden: true });
      await fireEvent.change(screen.getByLabelText('Start from'), { target: { value: from } });
      await fireEvent.click(screen.getByRole('button', { name: 'Add', hidden: true }));
      expect(server.tried.at(-1)?.at(-1)).toEqual({ path: 'builds.kathe-s-town', name: 'Käthe’s town', ...want });
    }
  });

  it('says what is wrong instead of showing nothing', async () => {
    await show({
      attempt: async () => ({
        ...sampleView(),
        builds: [],
        rows: [],
        faults: [
          { line: 41, path: 'car.wheelbase', got: 'is 27 m', want: 'enter a wheelbase', kind: 'refuse' as const },
        ],
      }),
    });
    // The faults themselves are the frame's, over every page: here they would be said twice.
    expect(await screen.findByRole('heading', { name: 'The job cannot be computed yet' })).toBeTruthy();
    expect(await screen.findByText(/What is wrong stands above/)).toBeTruthy();
    expect(screen.queryByText(/27 m|car\.wheelbase/)).toBeNull();
  });

  it('shows names as text, whatever is in them', async () => {
    const view = sampleView();
    const first = view.builds[0];
    if (!first) throw new Error('no build');
    first.name = '<img src=x onerror=alert(1)>';
    await show({ attempt: async () => view });
    expect(await screen.findByRole('heading', { name: first.name })).toBeTruthy();
    expect(document.querySelector('img')).toBeNull();
  });

  it('shows four at most, and lets others be chosen', async () => {
    const view = sampleView();
    const last = view.builds[3];
    if (!last) throw new Error('no build');
    view.builds.push({ ...last, id: 'fifth', name: 'Fifth' });
    view.rows.forEach((row) => row.cells[3] && row.cells.push({ ...row.cells[3], text: 'of the fifth' }));
    await show({ attempt: async () => view });
    await screen.findByText('Builds shown, four at most:');
    expect(screen.getAllByRole('columnheader')).toHaveLength(5);
    await fireEvent.click(screen.getByRole('checkbox', { name: 'As it arrived' }));
    await fireEvent.click(screen.getByRole('checkbox', { name: 'Fifth' }));
    expect(screen.getByRole('heading', { name: 'Fifth' })).toBeTruthy();
    expect(screen.getAllByText('of the fifth').length).toBeGreaterThan(0);
  });
});

describe('car', () => {
  it('sends a reading exactly as it was typed', async () => {
    const { server } = await show({}, 'car');
    const fields = await screen.findAllByLabelText('front left');
    const first = fields[0] as HTMLInputElement;
    await fireEvent.focus(first);
    await fireEvent.input(first, { target: { value: '939.2 lb ± 2 lb' } });
    expect(server.tried.at(-1)).toEqual([{ path: 'car.weighed.load.front_left', value: '939.2 lb ± 2 lb' }]);
  });

  it('marks what was filled in', async () => {
    await show({}, 'car');
    const field = (await screen.findByLabelText('Tyre rate, rear')) as HTMLInputElement;
    expect(field.value).toBe('');
    expect(field.placeholder).toBe('225 N/mm');
    expect(field.closest('.field')?.textContent).toContain('filled in');
  });
});

describe('before the order', () => {
  it('says what each build costs and buys, and that it judges no law', async () => {
    await show({}, 'order');
    expect(await screen.findByText('2,950 EUR')).toBeTruthy();
    expect(screen.getByText(/16 mm more to the rear stops/)).toBeTruthy();
    expect(screen.getByText(/for the local code and a licensed tester/)).toBeTruthy();
  });
});
