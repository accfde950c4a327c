import { fireEvent, render, screen } from '@testing-library/svelte';
import { expect, it, vi } from 'vitest';
import ConflictSheet from './ConflictSheet.svelte';

const field = (path: string, base: string, mine: string, theirs: string) => ({
  path,
  label: path,
  base,
  mine,
  theirs,
  same: mine === theirs,
});

it('keeps what only one changed, and asks where both did', async () => {
  const onresolve = vi.fn();
  render(ConflictSheet, {
    props: {
      conflict: {
        theirs: { text: '', revision: 4, who: 'Tam', when: '', why: '' },
        fields: [
          field('both', '1', '2', '3'),
          field('mine', '1', '2', '1'),
          field('theirs', '1', '1', '3'),
          field('same', '1', '2', '2'),
        ],
      },
      onresolve,
      onclose: () => undefined,
    },
  });
  const save = screen.getByRole<HTMLButtonElement>('button', { name: 'Save what was chosen', hidden: true });
  expect(save.disabled).toBe(true);
  const both = screen.getAllByRole('radio', { hidden: true }).slice(0, 2);
  expect(both.map((one) => (one as HTMLInputElement).checked)).toEqual([false, false]);
  await fireEvent.click(both[0] as HTMLElement);
  expect(save.disabled).toBe(false);
  await fireEvent.click(save);
  expect(onresolve).toHaveBeenCalledWith(new Set(['both', 'mine']), '');
});
