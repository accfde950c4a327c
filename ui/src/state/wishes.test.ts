import { describe, expect, it } from 'vitest';
import type { FoundBuild } from '../api/contract';
import { sorted, usual, type Weights } from './wishes';

const build = (id: string, comfort: number, control: number, holds = true): FoundBuild => ({
  id,
  name: id,
  drawn: true,
  holds,
  front: '',
  rear: '',
  heights: '',
  room: [],
  short: [],
  aims: [
    { code: 'comfort', name: '', value: comfort, high: comfort, text: '' },
    { code: 'control', name: '', value: control, high: control, text: '' },
    { code: 'price', name: '', value: null, high: null, text: '' },
  ],
});
const list = [
  build('soft', 0.4, 0.3),
  build('firm', 0.7, 0.05),
  build('middle', 0.5, 0.15),
  build('short', 0.3, 0.05, false),
];
const none: Weights = { comfort: 0, control: 0, grip: 0, price: 0, hours: 0, stance: 0 };
const order = (weights: Weights) => sorted(list, weights).map((one) => one.id);

describe('wishes', () => {
  it('puts the softest first where comfort alone matters, the calmest where control does', () => {
    expect(order({ ...none, comfort: 4 })).toEqual(['soft', 'middle', 'firm', 'short']);
    expect(order({ ...none, control: 4 })).toEqual(['firm', 'middle', 'soft', 'short']);
  });
  it('keeps what lacks something behind what holds, and the order where nothing matters', () => {
    expect(order(usual).at(-1)).toBe('short');
    expect(order(none)).toEqual(['soft', 'firm', 'middle', 'short']);
  });
});
