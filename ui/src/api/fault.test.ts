import { describe, expect, it } from 'vitest';
import { faultText } from './fault';

const fault = { line: 12, path: 'car.weighed.load.front_left', got: '426', want: 'a mass with its unit, as 426 kg' };

describe('a fault of a job, as it is shown', () => {
  it('names the field by its label and its line, never by its path', () => {
    const fields = { [fault.path]: { label: 'Front left load' } };
    expect(faultText(fault, fields)).toBe('Front left load, line 12: “426”; a mass with its unit, as 426 kg.');
  });
  it('leaves out what is not known', () => {
    expect(faultText(fault)).toBe('line 12: “426”; a mass with its unit, as 426 kg.');
    expect(faultText({ ...fault, line: 0, got: '', want: 'enter the load.' })).toBe('enter the load.');
  });
});
