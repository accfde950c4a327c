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
