// The last answers of the server, kept on this machine by IndexedDB: what a page shows while the workshop's network is away.
// Each is kept under the name of whoever was signed in, shown to nobody else, and thrown away when they sign out.

import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { tablet } from './tablet';

export interface Kept<T = unknown> {
  value: T;
  /** When it was answered. */
  at: number;
}

interface Shelves extends DBSchema {
  answers: { key: [whose: string, what: string]; value: Kept };
}

const longest = 30 * 24 * 3600 * 1000; // ms that an answer nobody asked for again is kept; chosen

let opening: Promise<IDBPDatabase<Shelves> | null> | undefined;

function shelves(): Promise<IDBPDatabase<Shelves> | null> {
  opening ??= openDB<Shelves>('trunnion', 1, {
    upgrade(db) {
      db.createObjectStore('answers');
    },
    // Another tab has a newer page that wants the shelf otherwise: this one lets go.
    blocking: (_now, _then, event) => (event.target as IDBDatabase).close(),
  }).catch(() => null); // a browser that keeps nothing
  return opening;
}

export async function keepAnswer(whose: string, what: string, value: unknown): Promise<void> {
  try {
    await (await shelves())?.put('answers', { value, at: Date.now() }, [whose, what]);
  } catch {
    // the disk is full: it is asked for again when the network is there
  }
}

export async function lastAnswer<T>(whose: string, what: string): Promise<Kept<T> | null> {
  try {
    return ((await (await shelves())?.get('answers', [whose, what])) as Kept<T> | undefined) ?? null;
  } catch {
    return null;
  }
}

/** Throws away what was answered to somebody, with who was here; or what was answered to anybody else, and what is old. */
export async function forgetAnswers(whose: string, which: 'theirs' | 'others'): Promise<void> {
  try {
    const db = await shelves();
    for (const key of (await db?.getAllKeys('answers')) ?? []) {
      const theirs = key[0] === whose || (which === 'theirs' && key[0] === tablet);
      if (which === 'theirs' ? theirs : !theirs && key[0] !== tablet) await db?.delete('answers', key);
    }
    if (which === 'others') await sweep(Date.now());
  } catch {
    // nothing was kept
  }
}

async function sweep(now: number): Promise<void> {
  const all = (await shelves())?.transaction('answers', 'readwrite').store;
  for (let one = await all?.openCursor(); one; one = await one.continue())
    if (now - one.value.at > longest) await one.delete();
}
