import { expect, it } from 'vitest';
import { naming } from './noteid';

it('names a note that is sent again as before, and any other anew', () => {
  const names = naming();
  const first = names.named({ kind: 'remark', text: 'fine' });
  expect(names.named({ kind: 'remark', text: 'fine' }).id).toBe(first.id);
  const other = names.named({ kind: 'remark', text: 'not fine' });
  expect(other.id).not.toBe(first.id);
  expect(other.id).toMatch(/^[0-9a-f]{32}$/);
  names.kept();
  expect(names.named({ kind: 'remark', text: 'not fine' }).id).not.toBe(other.id);
});
