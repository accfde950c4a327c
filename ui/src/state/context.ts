import { getContext, setContext } from 'svelte';
import type { Desk } from './desk.svelte';
import type { Shell } from './shell.svelte';

const shellKey = Symbol('shell');
const deskKey = Symbol('desk');

export const giveShell = (shell: Shell) => setContext(shellKey, shell);
export const useShell = () => getContext<Shell>(shellKey);
export const giveDesk = (desk: () => Desk) => setContext(deskKey, desk);
/** The job on the desk; a function, because another job may be put there. */
export const useDesk = () => getContext<() => Desk>(deskKey);
