import { forget, keep, recall } from '../../state/kept';

const name = (job: string, form: string) => `note.${job}.${form}`;

/** What was typed into a form and not sent, kept on this machine until it is. For a component's beginning. */
export function typed<T extends object>(job: string, form: string, empty: T): T {
  const value = $state({ ...empty, ...recall<Partial<T>>(name(job, form)) });
  const nothing = JSON.stringify(empty);
  $effect(() => {
    const now = $state.snapshot(value);
    if (JSON.stringify(now) === nothing) forget(name(job, form));
    else keep(name(job, form), now);
  });
  return value;
}

export const waiting = (job: string, form: string): boolean => recall(name(job, form)) !== null;
export const sent = (job: string, form: string): void => forget(name(job, form));
