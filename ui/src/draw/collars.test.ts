import { render } from '@testing-library/svelte';
import { describe, expect, it } from 'vitest';
import { sampleScales } from '../sample/scales';
import Collars from './Collars.svelte';

const corner = (box: HTMLElement, name: string) => {
  const one = box.querySelector<HTMLElement>(`[data-corner="${name}"]`);
  if (!one) throw new Error(`no corner ${name}`);
  return one;
};

describe('the plan drawing', () => {
  it('says at each corner how far, up or down, and which way round', () => {
    const { container } = render(Collars, { props: { scales: sampleScales() } });
    const rear = corner(container, 'rear-left');
    expect(rear.querySelector('.figure')?.textContent?.trim()).toBe('2 1/8');
    expect(rear.textContent).toMatch(/turns\s+down/);
    expect(rear.textContent).toMatch(/(?<!anti)clockwise/);
    expect(corner(container, 'front-left').textContent).toMatch(/turn\s+up[\s\S]*anticlockwise/);
  });

  it('has left on the left and right on the right, front above rear', () => {
    const { container } = render(Collars, { props: { scales: sampleScales() } });
    const classes = ['front-left', 'front-right', 'rear-left', 'rear-right'].map((one) =>
      ['fl', 'fr', 'rl', 'rr'].find((name) => corner(container, one).classList.contains(name)),
    );
    expect(classes).toEqual(['fl', 'fr', 'rl', 'rr']);
    expect(container.textContent).toMatch(/◀ Left[\s\S]*Right ▶/);
  });

  it('shows no turn at all, and nothing of after, when the readings were stopped', () => {
    const scales = { ...sampleScales(), verdict: 'stop' as const, stopped: true };
    const { container } = render(Collars, { props: { scales } });
    expect(container.querySelectorAll('.figure, .way, .leave')).toHaveLength(0);
    expect(container.textContent).not.toMatch(/turns? (up|down)|→/);
    expect(container.textContent).toMatch(/431.8 kg/);
  });

  it('leaves a build without collars its readings', () => {
    const sample = sampleScales();
    const scales = { ...sample, corners: sample.corners.map((one) => ({ ...one, collar: undefined })) };
    const { container } = render(Collars, { props: { scales } });
    expect(container.querySelectorAll('.figure, .way, .leave')).toHaveLength(0);
    expect(container.textContent).toMatch(/350.1 mm/);
  });

  it('draws the cross weight on the diagonal that is meant', () => {
    const sample = sampleScales();
    const lineOf = (diagonal: string[], name: string) => {
      const { container, unmount } = render(Collars, {
        props: { scales: { ...sample, cross: { ...sample.cross, diagonal, name } } },
      });
      const [, x1, , x2] = /^M([\d.]+) ([\d.]+)L([\d.]+) /.exec(
        container.querySelector('path.thick')?.getAttribute('d') ?? '',
      ) as unknown as string[];
      const words = container.querySelector('.cross')?.textContent ?? '';
      unmount();
      return { toTheLeft: Number(x2) < Number(x1), words };
    };
    const one = lineOf(['front-right', 'rear-left'], 'front right + rear left');
    expect(one.toTheLeft).toBe(true);
    expect(one.words).toMatch(/front right \+ rear left/);
    const other = lineOf(['front-left', 'rear-right'], 'front left + rear right');
    expect(other.toTheLeft).toBe(false);
    expect(other.words).toMatch(/front left \+ rear right/);
  });
});
