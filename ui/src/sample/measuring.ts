import type { Measuring, MeasuringField } from '../api/contract';

/** Two cards of the car and the drawing of one. */
export function sampleMeasuring(): Measuring {
  const corners = ['front_left', 'front_right', 'rear_left', 'rear_right'];
  const value = (path: string, label: string, unit: string): MeasuringField => ({ path, label, form: 'value', unit });
  return {
    groups: [
      { id: 'scales', title: 'Scales' },
      { id: 'tape', title: 'Tape, on its wheels' },
    ],
    cards: [
      {
        id: 'corner-load',
        page: 'car',
        group: 'scales',
        title: 'Corner load',
        tool: 'four scales',
        minutes: 20,
        stands: 'on its wheels',
        how: 'Roll on, settle, read all four.',
        for: 'Everything.',
        watch: 'Handbrake on.',
        drawing: 'corner-load',
        fields: corners.map((one) => value(`car.weighed.load.${one}`, one.replace('_', ' '), 'kg')),
      },
      {
        id: 'sidewall',
        page: 'car',
        group: 'tape',
        title: 'Tyre on the car',
        fields: ['front', 'rear'].map((one) => value(`car.${one}.tyre_rate`, `Tyre rate, ${one}`, 'N/mm')),
      },
    ],
    drawings: [
      {
        id: 'corner-load',
        about: 'A wheel stands on a scale.',
        width: 200,
        height: 150,
        shapes: [
          { form: 'circle', points: [80, 78], radius: 42, fill: 'rubber' },
          { form: 'tape', points: [10, 10, 60, 10] },
          { form: 'ground', points: [10, 132, 190, 132] },
        ],
      },
    ],
  };
}
