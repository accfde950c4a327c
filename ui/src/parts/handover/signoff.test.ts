import { expect, it } from 'vitest';
import { checksIn, doneEdits } from './signoff';

it('names each check in the reason of a save, by what was said of it last', () => {
  const edits = [
    ...doneEdits({ key: 'hoses', what: 'Brake hoses free' }, 'Tam', '2026-11-30'),
    ...doneEdits({ key: 'leads', what: 'Sensor leads free' }, 'Tam', '2026-11-30'),
    { path: 'handover.checks.leads.state', value: 'not-applicable', label: 'Sensor leads free: does not apply' },
    { path: 'handover.odometer', value: '84212 km', label: 'Odometer' },
  ];
  expect(checksIn(edits)).toBe('done: Brake hoses free; does not apply: Sensor leads free');
  expect(checksIn(edits.slice(-1))).toBe('');
});
