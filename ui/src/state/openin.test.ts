import { expect, it } from 'vitest';
import type { View } from '../api/contract';
import { openIn } from './openin';

const cell = (verdict: string) => ({ verdict, text: '', word: '', state: 'ok', tier: 'static' });
const view = (part: object) => ({ faults: [], measureNext: [], rows: [], ...part }) as unknown as View;

it('counts faults and readings where they are typed, and findings at the builds', () => {
  const open = openIn(
    view({
      faults: [
        { kind: 'refuse', path: 'car.weighed.load.front_left', text: '' },
        { kind: 'doubt', path: 'car.track.front', text: '' },
        { kind: 'refuse', path: '', text: '' },
      ],
      measureNext: [
        { path: 'car.front.bush_rate', text: '', narrows: '', minutes: 1 },
        { path: 'parts.springs.rear.free', text: '', narrows: '', minutes: 1 },
        { path: 'car.weighed.load.front_left', text: '', narrows: '', minutes: 1 },
      ],
      rows: [{ cells: [cell('clear'), cell('close')] }, { cells: [cell('clear')] }, { cells: [cell('over')] }],
    }),
    null,
  );
  expect(open.car).toEqual({ many: 2, says: '1 fault to mend, 1 reading to take next' });
  expect(open.parts).toEqual({ many: 1, says: '1 reading to take next' });
  expect(open.builds?.many).toBe(2);
  expect(open.brief).toBeUndefined();
});
