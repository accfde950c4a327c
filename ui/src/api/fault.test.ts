import { describe, expect, it } from 'vitest';
import { faultAtField, faultText } from './fault';

const fault = {
  line: 12,
  path: 'car.weighed.load.front_left',
  got: 'is 426: no unit',
  want: 'enter a mass with its unit, as 426 kg',
};

describe('a fault of a job, as it is shown', () => {
  it('names the field by its label and its line, never by its path', () => {
    const fields = { [fault.path]: { label: 'Front left load' } };
    expect(faultText(fault, fields)).toBe(
      'Front left load (line 12) is 426: no unit; enter a mass with its unit, as 426 kg.',
    );
  });
  it('names what has no label by the last words of its path, without ids', () => {
    expect(faultText(fault)).toBe('Load front left (line 12) is 426: no unit; enter a mass with its unit, as 426 kg.');
    expect(faultText({ line: 0, path: 'builds', got: 'is missing', want: 'enter one' })).toBe(
      'Builds is missing; enter one.',
    );
    expect(faultText({ line: 0, path: 'parts.springs.f-60.rate', got: 'is missing', want: '' })).toBe(
      'Rate is missing.',
    );
  });
  it('leaves out what is not known', () => {
    expect(faultText({ line: 0, path: '', got: '', want: 'enter the load.' })).toBe('Enter the load.');
    expect(faultText({ line: 3, path: '', got: 'has a tag', want: 'take it out' })).toBe(
      'Line 3 has a tag; take it out.',
    );
  });
  it('needs no name at the field', () => {
    expect(faultAtField(fault)).toBe('426: no unit; enter a mass with its unit, as 426 kg.');
    expect(faultAtField({ got: 'is missing', want: 'enter one' })).toBe('Is missing; enter one.');
  });
});
