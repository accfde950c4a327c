import { expect, it } from 'vitest';
import type { Measuring } from '../api/contract';
import { asTyped, cardOf, faceOf, itemsUnder, listOf, matches, pasted } from './measuring';

const measuring = {
  groups: [],
  drawings: [],
  cards: [
    {
      id: 'load',
      page: 'car',
      group: 'scales',
      title: '',
      fields: [{ path: 'car.weighed.load.front_left', label: '', form: 'value' }],
    },
    {
      id: 'damper',
      page: 'parts',
      group: 'bench',
      title: '',
      fields: [{ path: 'parts.dampers.*.open', label: '', form: 'value' }],
    },
    {
      id: 'fitted',
      page: 'parts',
      group: 'fitted',
      title: '',
      fields: [{ path: 'builds.*.front.damper', label: '', form: 'part', section: 'dampers' }],
    },
  ],
} as unknown as Measuring;

it('finds the card of a path, of a part in its build too', () => {
  expect(cardOf(measuring, 'car.weighed.load')?.id).toBe('load');
  expect(cardOf(measuring, 'parts.dampers.kit-front.open')?.id).toBe('damper');
  expect(cardOf(measuring, 'builds.arrived.front.damper.open')?.id).toBe('damper');
  expect(cardOf(measuring, 'builds.arrived.front.damper')?.id).toBe('fitted');
  expect(faceOf(measuring, 'handover.words')).toBe('handover');
  expect(faceOf(measuring, 'builds.arrived.front.damper.open')).toBe('parts');
});

it('gives a bare number the unit beside it and leaves what has one', () => {
  const mm = { form: 'value' as const, unit: 'mm' };
  expect(asTyped('38', mm)).toBe('38 mm');
  expect(asTyped('38 ± 2', mm)).toBe('38 ± 2 mm');
  expect(asTyped('1.5 in', mm)).toBe('1.5 in');
  expect(asTyped('est 38 mm', mm)).toBe('est 38 mm');
  expect(asTyped('0, 5, 10', { form: 'row', unit: 'mm' })).toBe('[0, 5, 10 mm]');
  expect(asTyped('0 5 -10 mm', { form: 'row', unit: 'mm' })).toBe('[0, 5, -10 mm]');
  expect(asTyped('0.5', { form: 'band', unit: 'mm' })).toBe('± 0.5 mm');
});

it('takes a table from a sheet and says which line is wrong', () => {
  expect(pasted('mm\tN\n0\t0\n10\t150\n20\t420,5\n', 2)).toEqual({
    rows: [
      ['0', '0'],
      ['10', '150'],
      ['20', '420.5'],
    ],
    fault: '',
  });
  expect(pasted('0 0\n10', 2).fault).toContain('Line 2');
  expect(pasted('', 2).fault).not.toBe('');
});

it('knows lists and what stands in them', () => {
  expect(listOf('car.front.bar.holes.*.arm')).toBe('car.front.bar.holes.*');
  expect(listOf('car.weighed.aboard[].mass')).toBe('car.weighed.aboard[]');
  expect(itemsUnder(['car.weighed.aboard[0].mass', 'car.weighed.aboard[1].mass'], 'car.weighed.aboard[]')).toHaveLength(
    2,
  );
  expect(matches('car.weighed.aboard[].mass', 'car.weighed.aboard[12].mass')).toBe(true);
});
