import { expect, it } from 'vitest';
import { csvRow } from './download';

it('quotes what RFC 4180 says must be quoted', () => {
  expect(csvRow(['a', 'b, c', 'd "e"', 1.5])).toBe('a,"b, c","d ""e""",1.5');
});

it('lets no spreadsheet run a name as a formula, and leaves numbers alone', () => {
  expect(csvRow(['=1+1', '+x', '-cmd', '@y', -3])).toBe("'=1+1,'+x,'-cmd,'@y,-3");
});
