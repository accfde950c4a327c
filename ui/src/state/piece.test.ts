import { expect, it } from 'vitest';
import { idOf, piece } from './piece';

it('writes a piece of a job that a reader takes for what was typed', () => {
  expect(piece({ road: 'town-street', speeds: '40, 60 km/h', load: 'driver' })).toBe(
    '{road: town-street, speeds: "40, 60 km/h", load: driver}',
  );
  expect(piece({ name: 'a } b: "c"', mass: '-20 kg', left: '' })).toBe('{name: "a } b: \\"c\\"", mass: "-20 kg"}');
  expect(piece({ name: 'no', note: '12' })).toBe('{name: "no", note: "12"}');
});

it('makes ids that are new', () => {
  expect(idOf('Four aboard', [])).toBe('four-aboard');
  expect(idOf('Zwölf & Söhne', ['zwolf-sohne'])).toBe('zwolf-sohne-2');
  expect(idOf('日本', [])).toBe('new');
  expect(idOf('2 up', [])).toBe('n-2-up');
});
