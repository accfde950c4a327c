// What the browser keeps on this machine. A browser that keeps nothing (private window, full disk) is no reason to stop.

export function recall<T>(key: string): T | null {
  try {
    const text = localStorage.getItem(`trunnion.${key}`);
    return text === null ? null : (JSON.parse(text) as T);
  } catch {
    return null;
  }
}

/** Reports whether it was kept. */
export function keep(key: string, value: unknown): boolean {
  try {
    localStorage.setItem(`trunnion.${key}`, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

export function forget(key: string): void {
  try {
    localStorage.removeItem(`trunnion.${key}`);
  } catch {
    // nothing was kept
  }
}

// What somebody typed is theirs: on a tablet that several people sign in at, nobody is shown another's drafts, and what
// waits to be sent goes under no other name. Where nobody signs in, it is the machine's.
let owner = '';

/** Says whose is what is typed from now on; empty where nobody signs in. */
export function belongTo(name: string): void {
  owner = name;
}

export const whose = (): string => owner;

const own = (key: string) => (owner === '' ? key : `of.${encodeURIComponent(owner)}.${key}`);

export const recallMine = <T>(key: string): T | null => recall<T>(own(key));
export const keepMine = (key: string, value: unknown): boolean => keep(own(key), value);
export const forgetMine = (key: string): void => forget(own(key));

/** The keys under which something of whoever is here is kept, that begin so. */
export function mine(beginning: string): string[] {
  const before = `trunnion.${own('')}`;
  const out: string[] = [];
  try {
    for (let k = 0; k < localStorage.length; k++) {
      const key = localStorage.key(k);
      if (key?.startsWith(before + beginning)) out.push(key.slice(before.length));
    }
  } catch {
    // a browser that keeps nothing
  }
  return out;
}

/** What this tab alone keeps: a reload finds it, another day begins anew. */
export function recallHere(key: string): string | null {
  try {
    return sessionStorage.getItem(`trunnion.${key}`);
  } catch {
    return null;
  }
}

export function keepHere(key: string, value: string): void {
  try {
    sessionStorage.setItem(`trunnion.${key}`, value);
  } catch {
    // it is asked for again
  }
}
