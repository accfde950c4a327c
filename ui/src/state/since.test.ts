import { expect, it } from 'vitest';
import type { View } from '../api/contract';
import { Since, touchedBy } from './since';

const cell = (text: string, verdict = 'over') => ({ text, verdict, word: '', state: 'ok', tier: 'static' });
const view = (rows: [string, string, string?][], part: object = {}): View =>
  ({
    load: 'driver',
    units: 'metric',
    full: false,
    builds: [{ id: 'kit', strips: [] }],
    rows: rows.map(([code, text, verdict]) => ({ code, cells: [cell(text, verdict)] })),
    tables: [],
    ...part,
  }) as unknown as View;

it('says what stood before, without its band, and nothing where only the band is another', () => {
  const was = view([
    ['gap', '4.1 mm (1 to 7)'],
    ['droop', '9.0 mm (8 to 10)'],
  ]);
  const now = view([
    ['gap', '6.2 mm (3 to 9)'],
    ['droop', '9.0 mm (7 to 11)'],
  ]);
  const since = new Since({ quick: was, full: null, touched: null }, now);
  expect(since.cell('gap', 'kit')?.text).toBe('4.1 mm');
  expect(since.cell('droop', 'kit')).toBeNull();
  expect(since.cell('gap', 'another')).toBeNull();
});

it('compares nothing of another load state, and a full answer with a full one', () => {
  const quick = view([['gap', '4.1 mm']]);
  const full = view([['gap', '4.2 mm']], { full: true });
  const now = view([['gap', '4.2 mm']], { full: true });
  expect(new Since({ quick, full, touched: null }, now).cell('gap', 'kit')).toBeNull();
  expect(new Since({ quick, full: null, touched: null }, now).cell('gap', 'kit')?.text).toBe('4.1 mm');
  expect(
    new Since({ quick, full, touched: null }, view([['gap', '5 mm']], { load: 'empty' })).cell('gap', 'kit'),
  ).toBeNull();
});

it('takes the draws of builds that were not changed for no change', () => {
  const was = view([['gap', '4.2 mm']]);
  const now = view([['gap', '4.1 mm']]);
  expect(new Since({ quick: was, full: null, touched: ['kit'] }, now).cell('gap', 'kit')?.text).toBe('4.2 mm');
  expect(new Since({ quick: was, full: null, touched: ['another'] }, now).cell('gap', 'kit')).toBeNull();
  const other = view([['gap', '4.1 mm']], { builds: [{ id: 'kit', strips: [], controls: [{ value: '5 mm' }] }] });
  expect(new Since({ quick: was, full: null, touched: ['another'] }, other).cell('gap', 'kit')?.text).toBe('4.2 mm');
  expect(touchedBy(['builds.kit.front', 'builds.kit.setup.click.front'])).toEqual(['kit', 'kit']);
  expect(touchedBy(['builds.kit.front', 'parts.springs.a.rate'])).toBeNull();
});

it('keeps the finding that was just mended among the worst', () => {
  const was = view([
    ['a', '1'],
    ['b', '1'],
    ['c', '1'],
    ['d', '1'],
  ]);
  const now = view([
    ['b', '1'],
    ['c', '1'],
    ['d', '1'],
    ['a', '9', 'clear'],
  ]);
  expect(new Since({ quick: was, full: null, touched: null }, now).worst(3).sort()).toEqual(['a', 'b', 'c']);
});
