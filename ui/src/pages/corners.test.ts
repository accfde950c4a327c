import { render, screen } from '@testing-library/svelte';
import { describe, expect, it } from 'vitest';
import type { CornerPoint, Corners } from '../api/contract';
import { sampleServer } from '../sample/server';
import SampleJob from './SampleJob.svelte';

const still: CornerPoint = {
  at: 0,
  shown: '0.00 g',
  roll: 0,
  pitch: 0,
  lift: [0, 0],
  centres: [70, 115],
  rolls: '0.0°',
  dips: '0.0°',
  share: '52 %',
  says: '',
  wheels: [0, 1, 2, 3].map(() => ({ load: 400, loaded: '400 kg', gap: 0, travel: '0 mm', state: 'free', word: '' })),
};
const build = {
  reference: false,
  verdict: 'clear' as const,
  sentence: '',
  against: '',
  reached: 1,
  events: [],
  figures: [],
  choices: [],
};
const answer = (driving: Corners['driving']): Corners => ({
  key: 'k',
  driving,
  direction: 'left',
  what: driving,
  full: false,
  load: 'driver',
  loadName: 'driver',
  units: 'metric',
  unit: {} as Corners['unit'],
  ms: 1,
  most: { shown: '1.0 g', value: 1, choices: [] } as unknown as Corners['most'],
  frame: { wheelbase: 2700, track: [1556, 1544], radius: 310, tyre: 205, height: 1470, mass: 575, note: '' },
  builds: [
    { ...build, build: 'kit', name: 'Kit', points: [still, { ...still, at: 1, shown: '1.00 g' }] },
    { ...build, build: 'arrived', name: 'Arrived', sentence: 'has no rest position', points: [] },
  ],
  charts: [],
  faults: [],
  notes: [],
  rests: [],
  steady: {
    builds: [],
    charts: [],
    note: '',
    top: { shown: '', value: 0, choices: [] },
  } as unknown as Corners['steady'],
});

describe('all builds in one table', () => {
  it.each(['cornering', 'both', 'braking'] as const)(
    'gives a build without points its whole line: %s',
    async (driving) => {
      render(SampleJob, { props: { server: sampleServer({ corner: async () => answer(driving) }), face: 'corners' } });
      const none = await screen.findByRole('cell', { name: 'has no rest position' });
      const heads = none.closest('table')?.querySelectorAll('thead th').length ?? 0;
      expect(none.getAttribute('colspan')).toBe(String(heads - 1));
    },
  );
});
