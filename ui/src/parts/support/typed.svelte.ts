import { forgetMine, keepMine, recallMine } from '../../state/kept';

const name = (job: string, form: string) => `note.${job}.${form}`;

/** What was typed into a form and not sent, kept on this machine until it is. For a component's beginning. */
export function typed<T extends object>(job: string, form: string, empty: T): T {
  const value = $state({ ...empty, ...recallMine<Partial<T>>(name(job, form)) });
  const nothing = JSON.stringify(empty);
  $effect(() => {
    const now = $state.snapshot(value);
    if (JSON.stringify(now) === nothing) forgetMine(name(job, form));
    else keepMine(name(job, form), now);
  });
  return value;
}

export const waiting = (job: string, form: string): boolean => recallMine(name(job, form)) !== null;
export const sent = (job: string, form: string): void => forgetMine(name(job, form));
